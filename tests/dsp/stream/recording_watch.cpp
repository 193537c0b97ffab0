#include "dsp/stream/recording_watch.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

std::vector<float> tone(std::size_t count, double amplitude, double offset) {
    std::vector<float> x(count);
    for (std::size_t n = 0; n < count; ++n) {
        x[n] = static_cast<float>(offset + amplitude * std::sin(0.1 * static_cast<double>(n)));
    }
    return x;
}

RecordingWatch watching(const std::vector<float>& left, const std::vector<float>& right = {}) {
    RecordingWatch watch(right.empty() ? 1 : 2, analysis_rate, analysis_rate);
    std::vector<float> interleaved;
    for (std::size_t n = 0; n < left.size(); ++n) {
        interleaved.push_back(left[n]);
        if (!right.empty()) {
            interleaved.push_back(right[n]);
        }
    }
    const std::size_t half = left.size() / 2 * (right.empty() ? 1 : 2);
    watch.feed({});
    watch.feed(std::span(interleaved).first(half));
    watch.feed(std::span(interleaved).subspan(half));
    return watch;
}

} // namespace

TEST_CASE("the loudest sample of all channels is told, and an offset that never changes is no sound") {
    CHECK(watching(tone(9600, 0.1, 0.0)).loudest().db() == doctest::Approx(-20.0).epsilon(0.001));
    CHECK(watching(tone(9600, 0.1, 0.0), tone(9600, 0.5, 0.0)).loudest().db() == doctest::Approx(-6.02).epsilon(0.001));
    CHECK(watching(tone(9600, 0.1, -0.3)).loudest().db() == doctest::Approx(-13.98).epsilon(0.001)); // apart by 0.2
    CHECK(watching(tone(9600, 0.0, 0.3)).loudest().db() < -200.0);
    CHECK(watching(tone(9600, 0.0, 0.0)).loudest().db() < -200.0);
    CHECK(RecordingWatch(1, analysis_rate, analysis_rate).loudest().db() < -200.0);
}

TEST_CASE("a channel is silent when nothing ever changes in it and the other one has sound") {
    const std::vector<float> sound = tone(9600, 0.1, 0.0);
    for (const double offset : {0.0, 0.02}) {
        CAPTURE(offset);
        const std::vector<float> dead = tone(9600, 0.0, offset);
        CHECK(watching(dead, sound).silent_channel() == 0U);
        CHECK(watching(sound, dead).silent_channel() == 1U);
        CHECK_FALSE(watching(dead, dead).silent_channel());
    }
    CHECK_FALSE(watching(sound, sound).silent_channel());
    CHECK_FALSE(watching(sound).silent_channel());
    CHECK_FALSE(RecordingWatch(2, analysis_rate, analysis_rate).silent_channel());
}

TEST_CASE("faults are told where they lie in the analysis, also after the recording was broken off") {
    RecordingWatch watch(1, SampleRate(96000.0), analysis_rate);
    std::vector<float> sound = tone(9600, 0.1, 0.0);
    std::fill_n(sound.begin() + 4000, 100, 0.0F); // a hole
    watch.feed(sound);
    watch.go_on_at(Position(6000.0)); // of which the resampler had given out 4800 before, and then something else came
    watch.feed(sound);
    const SignalFaults faults = watch.result();
    REQUIRE(faults.dropouts.size() == 2);
    CHECK(faults.dropouts[0].begin.samples() == doctest::Approx(2000.0).epsilon(0.001));
    CHECK(faults.dropouts[0].length.samples() == doctest::Approx(50.0).epsilon(0.03));
    CHECK(faults.dropouts[1].begin.samples() == doctest::Approx(8000.0).epsilon(0.001));
}
