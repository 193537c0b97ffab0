#include "dsp/stream/signal_faults.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::white_noise;

namespace {

SignalFaults faults_of(const std::vector<float>& x) {
    FaultWatch watch(analysis_rate);
    watch.feed(x);
    return watch.result();
}

// As a 16-bit converter gives it: rounded, and cut off at the rails.
void convert_16_bit(std::vector<float>& x) {
    for (float& v : x) {
        v = std::clamp(std::round(v * 32768.0F), -32768.0F, 32767.0F) / 32768.0F;
    }
}

std::vector<float> plain_tone(std::size_t count, double hz, double amplitude) {
    std::vector<float> x(count);
    for (std::size_t n = 0; n < count; ++n) {
        x[n] = static_cast<float>(amplitude * std::sin(2.0 * std::numbers::pi * hz * static_cast<double>(n) / 48000.0));
    }
    return x;
}

void silence(std::vector<float>& x, std::size_t begin, std::size_t length) {
    std::fill_n(x.begin() + static_cast<std::ptrdiff_t>(begin), length, 0.0F);
}

} // namespace

TEST_CASE("flat tops at full scale are counted, on both sides") {
    std::vector<float> x(100, 0.1F);
    std::fill_n(x.begin() + 20, 5, 1.0F);
    std::fill_n(x.begin() + 50, 3, -1.0F);
    x[70] = 1.0F; // one sample alone may just be a peak
    const SignalFaults faults = faults_of(x);
    CHECK(faults.clipped_samples == 8);
    REQUIRE(faults.clipped.size() == 2);
    CHECK(faults.clipped[0].begin.samples() == 20.0);
    CHECK(faults.clipped[0].length.samples() == 5.0);
    CHECK(faults.clipped[1].begin.samples() == 50.0);
}

TEST_CASE("clipping is seen in a recording that was turned down afterwards") {
    std::vector<float> x = plain_tone(4800, 700.0, 1.6); // overdriven by 4 dB: each top is flat for 17 samples or so
    convert_16_bit(x);
    const std::size_t loud = faults_of(x).clipped_samples;
    CHECK(loud > 2000);
    std::ranges::transform(x, x.begin(), [](float v) { return 0.25F * v; });
    const std::size_t quiet = faults_of(x).clipped_samples;
    CHECK(quiet > loud - 50); // the negative rail at -1 and the positive one at 32767/32768 stay rails
}

TEST_CASE("loud sounds that are not clipped are not called clipped") {
    std::vector<float> low = plain_tone(48000, 50.0, 0.3); // round tops, several equal 16-bit values on each
    convert_16_bit(low);
    CHECK(faults_of(low).clipped_samples == 0);
    std::vector<float> tap = retap::test::sampled({0.99, 2000.0, 500.0}, 4800, 1000.3, 48000.0);
    convert_16_bit(tap);
    CHECK(faults_of(tap).clipped_samples == 0);
    CHECK(faults_of(white_noise(48000, 0.1, 111)).clipped_samples == 0);
    CHECK(faults_of({}).clipped_samples == 0);
    CHECK(faults_of(std::vector<float>(1000, 0.4F)).clipped_samples == 0); // a constant offset
}

TEST_CASE("a hole in the sound is found with its place and length") {
    std::vector<float> x = white_noise(20000, 0.01, 112);
    silence(x, 5000, 64);
    silence(x, 9000, 441);
    silence(x, 15000, 8); // too short to tell from rounding
    const SignalFaults faults = faults_of(x);
    REQUIRE(faults.dropouts.size() == 2);
    CHECK(faults.dropouts[0].begin.samples() == 5000.0);
    CHECK(faults.dropouts[0].length.samples() == 64.0);
    CHECK(faults.dropouts[1].length.samples() == 441.0);
    CHECK(faults.silent_share == 0.0);
}

TEST_CASE("silence ahead of the first sound and behind the last has no share, silence between has") {
    std::vector<float> x(48000, 0.0F);
    std::ranges::fill(x.begin() + 12000, x.begin() + 36000, 0.1F);
    CHECK(faults_of(x).silent_share == 0.0);
    silence(x, 15000, 6000);
    CHECK(faults_of(x).silent_share == 0.25); // 6000 of the 24000 between
}

TEST_CASE("silence between taps, before the first sound and after the last is no hole") {
    // float taps fade to the last step of 16 bits, then exact silence, then the next tap
    std::vector<float> x = retap::test::sampled({0.5, 2000.0, 500.0}, 60000, 10000.0, 48000.0);
    retap::test::add(x, retap::test::sampled({0.5, 2000.0, 500.0}, 60000, 12000.0, 48000.0));
    convert_16_bit(x);
    const SignalFaults faults = faults_of(x);
    CHECK(faults.dropouts.empty());
    CHECK(faults.silent_share == 0.0); // 2000 samples between the two taps: less than 50 ms of silence
    CHECK(faults_of(std::vector<float>(4800, 0.0F)).silent_share == 1.0);
}

TEST_CASE("a block heard twice is found, a plain_tone is not mistaken for one") {
    for (const std::size_t length : {64U, 480U, 2048U}) {
        CAPTURE(length);
        std::vector<float> x = white_noise(20000, 0.01, 113);
        std::copy_n(x.begin() + 8001, length, x.begin() + static_cast<std::ptrdiff_t>(8001 + length));
        const SignalFaults faults = faults_of(x);
        REQUIRE(faults.dropouts.size() == 1);
        CHECK(std::abs(faults.dropouts[0].begin.samples() - static_cast<double>(8001 + length)) < 17.0);
        CHECK(faults.dropouts[0].length.samples() == static_cast<double>(length));
    }
    std::vector<float> periodic = plain_tone(20000, 1000.0, 0.3); // 48 samples: 96, 192, 480 ... repeat it exactly
    convert_16_bit(periodic);
    CHECK(faults_of(periodic).dropouts.empty());
    std::vector<float> faint = white_noise(96000, 1.0 / 32768.0, 114); // hops between a few steps
    convert_16_bit(faint);
    CHECK(faults_of(faint).dropouts.empty());
    CHECK(faults_of(white_noise(96000, 0.1, 115)).dropouts.empty());
}

TEST_CASE("the same faults are found whatever the block size") {
    std::vector<float> x = white_noise(30000, 0.02, 116);
    silence(x, 7000, 100);
    std::copy_n(x.begin() + 15000, 480, x.begin() + 15480);
    std::fill_n(x.begin() + 20000, 40, 0.7F);
    const SignalFaults whole = faults_of(x);
    CHECK(whole.clipped_samples == 40);
    CHECK(whole.dropouts.size() == 2);
    for (const std::size_t block : {1U, 7U, 480U, 1000U}) {
        FaultWatch watch(analysis_rate);
        for (std::size_t at = 0; at < x.size(); at += block) {
            watch.feed(std::span<const float>(x).subspan(at, std::min(block, x.size() - at)));
        }
        CHECK(watch.result().clipped_samples == whole.clipped_samples);
        CHECK(watch.result().dropouts.size() == whole.dropouts.size());
        CHECK(watch.result().silent_share == whole.silent_share);
    }
}

TEST_CASE("a run counts as within a stretch as soon as one sample of it is") {
    const std::vector<SampleRun> runs{{Position(100.0), Length(10.0)}};
    CHECK(any_within(runs, Position(109.0), Position(120.0)));
    CHECK(any_within(runs, Position(0.0), Position(101.0)));
    CHECK_FALSE(any_within(runs, Position(110.0), Position(120.0)));
    CHECK_FALSE(any_within(runs, Position(0.0), Position(100.0)));
    CHECK_FALSE(any_within({}, Position(0.0), Position(100.0)));
}
