#include "dsp/measure/bandwidth.hpp"

#include "analysis_rate.hpp"
#include "dsp/filters/fft.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>
#include <vector>

using namespace retap::dsp;
using retap::test::add;
using retap::test::analysis_rate;
using retap::test::sampled;
using retap::test::white_noise;

namespace {

// 20 ms before, 80 ms after the onset
Tap tap_of(std::vector<float> samples) {
    Tap tap;
    tap.excerpt = {.samples = std::move(samples), .onset_index = 960.0};
    return tap;
}

// Everything from `hz` on taken out, as a recording at twice that analysis_rate would have it.
std::vector<float> cut_above(const std::vector<float>& x, double hz) {
    RealFft fft(x.size());
    auto spectrum = fft.forward(x);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        if (static_cast<double>(k) * analysis_rate.hz() / static_cast<double>(x.size()) >= hz) {
            spectrum[k] = 0.0F;
        }
    }
    return fft.inverse(spectrum);
}

// A short broad click: flat to some kHz, then falling by 12 dB an octave.
std::vector<float> click_in_noise(double noise, unsigned seed) {
    std::vector<float> x = sampled({0.5, 3000.0, 6000.0}, 4800, 960.0, analysis_rate.hz());
    add(x, white_noise(4800, noise, seed));
    return x;
}

} // namespace

TEST_CASE("the band of a tap ends where its spectrum sinks to four times the noise") {
    const retap::test::DampedSine click{0.5, 3000.0, 6000.0};
    for (const double noise : {1e-3, 3e-3}) {
        CAPTURE(noise);
        std::vector<Tap> taps;
        for (unsigned i = 0; i < 10; ++i) {
            taps.push_back(tap_of(click_in_noise(noise, 121 + i)));
        }
        // Noise energy per hertz in 21 ms: rms^2 * 0.021 * 48000 / 24000. Sound and noise together are 4 times it where
        // the sound alone is 3 times it.
        const double level = 3.0 * noise * noise * 0.021 * 48000.0 / 24000.0;
        const double want = retap::test::bisect(
            [&](double f) { return click.sampled_density(f, analysis_rate.hz()) - level; }, 3500.0, 23900.0);
        const double got = measure_bandwidth(taps, analysis_rate).taps_hz;
        // The noise of a slot is known to 1 dB (27 independent values); 2 dB on a slope of 12 dB an octave are 12 %.
        CHECK(std::abs(got / want - 1.0) < 0.12);
        CHECK_FALSE(measure_bandwidth(taps, analysis_rate).wall_hz);
    }
}

TEST_CASE("a recording made at 8 or 16 kHz ends like at a wall") {
    for (const double limit : {4000.0, 8000.0}) {
        CAPTURE(limit);
        std::vector<Tap> taps;
        for (unsigned i = 0; i < 5; ++i) {
            taps.push_back(tap_of(cut_above(click_in_noise(1e-3, 131 + i), limit)));
        }
        const Bandwidth bandwidth = measure_bandwidth(taps, analysis_rate);
        REQUIRE(bandwidth.wall_hz);
        CHECK(std::abs(*bandwidth.wall_hz - limit) <= 500.0);
        CHECK(bandwidth.taps_hz <= limit + 250.0);
    }
}

TEST_CASE("dull taps without noise have no wall, noise alone has no band") {
    std::vector<Tap> dull;
    std::vector<Tap> noise;
    for (unsigned i = 0; i < 5; ++i) {
        dull.push_back(tap_of(sampled({0.5, 600.0, 400.0}, 4800, 960.0, analysis_rate.hz())));
        noise.push_back(tap_of(white_noise(4800, 0.01, 141 + i)));
    }
    CHECK_FALSE(measure_bandwidth(dull, analysis_rate).wall_hz);
    CHECK(measure_bandwidth(noise, analysis_rate).taps_hz == 0.0);
    CHECK_FALSE(measure_bandwidth(noise, analysis_rate).wall_hz);
}

TEST_CASE("taps that are not usable or too close to an end are passed over") {
    Tap unusable = tap_of(click_in_noise(1e-3, 151));
    unusable.usable = false;
    Tap early = tap_of(click_in_noise(1e-3, 152));
    early.excerpt.onset_index = 100.0;
    Tap bare;
    const std::vector<Tap> taps{unusable, early, bare};
    CHECK(measure_bandwidth(taps, analysis_rate).taps_hz == 0.0);
    CHECK(measure_bandwidth({}, analysis_rate).taps_hz == 0.0);
}

TEST_CASE("a dull tap that ends as steeply is no wall, since the noise goes on above it") {
    std::vector<Tap> taps;
    for (unsigned i = 0; i < 5; ++i) {
        std::vector<float> dull = cut_above(click_in_noise(0.0, 0), 2000.0);
        add(dull, white_noise(4800, 1e-3, 141 + i));
        taps.push_back(tap_of(std::move(dull)));
    }
    const Bandwidth bandwidth = measure_bandwidth(taps, analysis_rate);
    CHECK_FALSE(bandwidth.wall_hz);
    CHECK(bandwidth.taps_hz >= 2000.0);
    CHECK(bandwidth.taps_hz <= 3000.0); // the edge is as blurred as the cut of the tap makes it
}
