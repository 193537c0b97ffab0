#include "dsp/onset/aic_picker.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <span>
#include <vector>

using namespace retap::dsp;

namespace {

constexpr double picker_rate = 48000.0;

std::vector<float> picker_noise(std::size_t length, double rms, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0.0, rms);
    std::vector<float> sound(length);
    for (float& x : sound) {
        x = static_cast<float>(normal(random));
    }
    return sound;
}

NoiseModel model_of_quiet(double rms) {
    const std::vector<float> quiet = picker_noise(6144, rms, 41);
    const std::array stretches{std::span<const float>(quiet)};
    return model_noise(stretches, 16).value();
}

} // namespace

TEST_CASE("an onset is picked where the impact begins, also when the picker_noise has swollen since it was measured") {
    constexpr double quiet_rms = 1e-3;
    constexpr std::size_t search = 960; // 20 ms
    constexpr std::size_t impact = 1300;
    const NoiseModel model = model_of_quiet(quiet_rms);
    for (const double swell : {1.0, 4.0}) {
        for (unsigned seed = 1; seed <= 20; ++seed) {
            std::vector<float> sound = picker_noise(2400, swell * quiet_rms, seed);
            for (std::size_t n = impact; n < sound.size(); ++n) {
                const double t = static_cast<double>(n - impact) / picker_rate;
                sound[n] += static_cast<float>(0.3 * std::exp(-t / 0.004) * std::sin(2.0 * 3.14159265 * 2300.0 * t));
            }
            const auto onset = aic_pick(sound, search, impact + 20, model, SampleRate(picker_rate));
            CAPTURE(swell);
            CAPTURE(seed);
            REQUIRE(onset.has_value());
            // The 1.5 samples that are expected of such a pick (it is late by a sample); swollen picker_noise hides one
            // more.
            CHECK(std::abs(*onset - static_cast<double>(impact)) <= (swell == 1.0 ? 1.5 : 2.5));
        }
    }
}

TEST_CASE("noise alone has no onset") {
    const NoiseModel model = model_of_quiet(1e-3);
    CHECK_FALSE(aic_pick(picker_noise(2400, 1e-3, 50), 960, 1300, model, SampleRate(picker_rate)).has_value());
    CHECK_FALSE(aic_pick(picker_noise(2400, 3e-3, 51), 960, 1300, model, SampleRate(picker_rate)).has_value());
}
