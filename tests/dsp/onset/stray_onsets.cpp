#include "dsp/onset/stray_onsets.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::white_noise;

namespace {

/// Noise about an offset, and in it a tap that is one sample long.
std::vector<float> tap_at(std::size_t place, unsigned seed) {
    std::vector<float> x = white_noise(6000, 1e-3, seed);
    for (float& v : x) {
        v += 0.2F;
    }
    x[place] -= 0.5F;
    return x;
}

} // namespace

TEST_CASE("an onset far ahead of where the others' lie is moved to there, and no other") {
    const std::vector<std::vector<float>> sounds = {tap_at(2030, 1), tap_at(2048, 2), tap_at(2040, 3), tap_at(2300, 4),
                                                    tap_at(3240, 5)};
    std::vector<TapSound> taps;
    taps.reserve(sounds.size());
    for (const auto& sound : sounds) {
        taps.push_back({.samples = sound, .onset = Position(2000.0)});
    }
    const auto moved = stray_onsets(taps, analysis_rate, {});
    REQUIRE(moved.size() == 5);
    for (std::size_t i = 0; i < 4; ++i) { // 300 samples are 6 ms: a light first contact may lead by as much
        CAPTURE(i);
        CHECK_FALSE(moved[i]);
    }
    REQUIRE(moved[4]);
    CHECK(moved[4]->samples() == 3240.0 - 48.0);
}

TEST_CASE("neither a thump nor a louder knock after the first makes an onset one that strayed") {
    std::vector<std::vector<float>> sounds(5, tap_at(2040, 1));
    for (std::size_t n = 2040; n < 4000; ++n) { // 40 Hz, far stronger than the tap
        sounds[3][n] +=
            0.9F * static_cast<float>(std::sin(2.0 * 3.14159265 * 40.0 * static_cast<double>(n - 2040) / 48000.0));
    }
    for (std::size_t n = 2001; n < 2041; ++n) { // a knock that rings, and 13 ms later a louder one
        sounds[4][n] += n % 2 == 0 ? 0.1F : -0.1F;
    }
    sounds[4][2640] += 0.9F;
    std::vector<TapSound> taps;
    taps.reserve(sounds.size());
    for (const auto& sound : sounds) {
        taps.push_back({.samples = sound, .onset = Position(2000.0)});
    }
    for (const auto& moved : stray_onsets(taps, analysis_rate, {})) {
        CHECK_FALSE(moved);
    }
}

TEST_CASE("fewer than three taps do not say where an onset usually lies") {
    const std::vector<float> near = tap_at(2030, 1);
    const std::vector<float> far = tap_at(3240, 2);
    const std::vector<TapSound> taps{{.samples = near, .onset = Position(2000.0)},
                                     {.samples = far, .onset = Position(2000.0)}};
    for (const auto& moved : stray_onsets(taps, analysis_rate, {})) {
        CHECK_FALSE(moved);
    }
    CHECK(stray_onsets({}, analysis_rate, {}).empty());
}
