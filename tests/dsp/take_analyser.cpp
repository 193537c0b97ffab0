#include "dsp/take_analyser.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

using namespace retap::dsp;

TEST_CASE("a minute of gurgling suction does not use up the sound that is kept of taps") {
    constexpr double rate = analysis_rate_hz;
    constexpr double pi = 3.14159265358979;
    std::mt19937 random(31);
    std::normal_distribution<double> normal;
    const double keep = std::exp(-2.0 * pi * 9.0 / rate); // a level that wanders nine times a second
    double wander = 0.0;
    std::vector<float> sound(static_cast<std::size_t>(66.0 * rate));
    for (float& x : sound) {
        wander = keep * wander + std::sqrt(1.0 - keep * keep) * normal(random);
        x = static_cast<float>(0.002 * std::exp(0.6 * wander) * normal(random));
    }
    for (int tap = 0; tap < 10; ++tap) {
        const auto at = static_cast<std::size_t>((61.0 + 0.4 * tap) * rate);
        for (std::size_t n = 0; n < 2400; ++n) {
            const double t = static_cast<double>(n) / rate;
            sound[at + n] += static_cast<float>(0.3 * std::exp(-t / 0.005) * std::sin(2.0 * pi * 1800.0 * t));
        }
    }
    TakeAnalyser analyser(1);
    analyser.feed(sound);
    const TakeAnalysis take = analyser.finish();
    CHECK(take.turned_down.size() > TakeSettings{}.keep_sound_of);
    REQUIRE(take.taps.size() == 10);
    CHECK(std::ranges::none_of(take.taps, [](const Tap& tap) { return tap.excerpt.samples.empty(); }));
}
