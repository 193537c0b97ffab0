#include "dsp/landing/energy_profile.hpp"

#include "dsp/base/take.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace {

using namespace retap::dsp;

constexpr double profile_rate_hz = retap::dsp::analysis_rate_hz;
constexpr double profile_onset = 0.015 * profile_rate_hz;

// Clicks of a decaying 2 kHz, so many milliseconds after the profile_onset, in a little noise.
std::vector<float> tap(const std::vector<double>& at_ms, unsigned seed) {
    std::mt19937 engine(seed);
    std::normal_distribution<double> noise(0.0, 1e-3);
    std::vector<float> samples(2400);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        double sum = noise(engine);
        for (const double ms : at_ms) {
            const double t = (static_cast<double>(i) - profile_onset) / profile_rate_hz - 1e-3 * ms;
            sum += t >= 0.0 ? std::exp(-t / 0.3e-3) * std::sin(2.0 * std::numbers::pi * 2000.0 * t) : 0.0;
        }
        samples[i] = static_cast<float>(sum);
    }
    return samples;
}

EnergyProfile profile_of(const std::vector<float>& samples) {
    return energy_profile({.samples = samples, .onset = Position(profile_onset)}, SampleRate(profile_rate_hz)).value();
}

} // namespace

TEST_CASE("the profile puts energy where it comes, and not before") {
    const auto profile = profile_of(tap({0.0}, 1));
    constexpr std::size_t middle_band = profile_edges_ms.size() - 1;
    const double nothing = std::log(0.01);
    CHECK(profile.at(middle_band) == doctest::Approx(nothing).epsilon(0.01));     // -1 to -0.4 ms
    CHECK(profile.at(middle_band + 2) == doctest::Approx(nothing).epsilon(0.05)); // up to the profile_onset
    double shares = 0.0;
    for (std::size_t bin = 0; bin < middle_band; ++bin) {
        shares += std::exp(profile.at(middle_band + bin)) - 0.01;
    }
    CHECK(shares == doctest::Approx(1.0).epsilon(1e-6));
}

TEST_CASE("a later click moves energy to its time, a gain moves none") {
    const EnergyProfile once = profile_of(tap({0.0}, 100));
    std::vector<float> samples = tap({0.0}, 100);
    std::ranges::transform(samples, samples.begin(), [](float v) { return -4.0F * v; });
    const EnergyProfile louder = profile_of(samples);
    const EnergyProfile twice = profile_of(tap({0.0, 1.2}, 100));
    constexpr std::size_t bins = profile_edges_ms.size() - 1;
    constexpr std::size_t at_1_ms = bins + 8; // 1.0 to 1.5 ms of the middle band
    CHECK(twice.at(at_1_ms) - once.at(at_1_ms) > 2.0);
    for (std::size_t i = 0; i < once.size(); ++i) {
        CHECK(louder.at(i) == doctest::Approx(once.at(i)).epsilon(1e-4));
    }
}

TEST_CASE("an excerpt that is too short has no profile") {
    const std::vector<float> samples = tap({0.0}, 1);
    CHECK(!energy_profile({.samples = samples, .onset = Position(100.0)}, SampleRate(profile_rate_hz)));
    CHECK(!energy_profile({.samples = samples, .onset = Position(2300.0)}, SampleRate(profile_rate_hz)));
}
