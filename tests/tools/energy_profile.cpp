#include "validate/energy_profile.hpp"

#include "dsp/base/take.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace {

using namespace retap::validate;
using retap::dsp::Position;
using retap::dsp::SampleRate;

constexpr double rate_hz = retap::dsp::analysis_rate_hz;
constexpr double onset = 0.015 * rate_hz;

// Clicks of a decaying 2 kHz, so many milliseconds after the onset, in a little noise.
std::vector<float> tap(const std::vector<double>& at_ms, unsigned seed) {
    std::mt19937 engine(seed);
    std::normal_distribution<double> noise(0.0, 1e-3);
    std::vector<float> samples(2400);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        double sum = noise(engine);
        for (const double ms : at_ms) {
            const double t = (static_cast<double>(i) - onset) / rate_hz - 1e-3 * ms;
            sum += t >= 0.0 ? std::exp(-t / 0.3e-3) * std::sin(2.0 * std::numbers::pi * 2000.0 * t) : 0.0;
        }
        samples[i] = static_cast<float>(sum);
    }
    return samples;
}

std::vector<Profile> profiles(const std::vector<double>& at_ms, float gain, unsigned seed) {
    std::vector<Profile> all;
    for (unsigned n = 0; n < 8; ++n) {
        std::vector<float> samples = tap(at_ms, seed + n);
        for (float& s : samples) {
            s *= gain;
        }
        all.push_back(*energy_profile(samples, Position(onset), SampleRate(rate_hz)));
    }
    return all;
}

TEST_CASE("the profile puts energy where it comes, and not before") {
    const auto profile = *energy_profile(tap({0.0}, 1), Position(onset), SampleRate(rate_hz));
    constexpr std::size_t middle_band = profile_edges_ms.size() - 1;
    const double nothing = std::log(0.01);
    CHECK(profile.at(middle_band) == doctest::Approx(nothing).epsilon(0.01));     // -1 to -0.4 ms
    CHECK(profile.at(middle_band + 2) == doctest::Approx(nothing).epsilon(0.05)); // up to the onset
    double shares = 0.0;
    for (std::size_t bin = 0; bin < middle_band; ++bin) {
        shares += std::exp(profile.at(middle_band + bin)) - 0.01;
    }
    CHECK(shares == doctest::Approx(1.0).epsilon(1e-6));
}

TEST_CASE("a second click moves the profile far beyond its scatter, a gain does not move it") {
    const auto once = profiles({0.0}, 1.0F, 100);
    const auto louder = profiles({0.0}, 4.0F, 200);
    const auto twice = profiles({0.0, 1.2}, 1.0F, 300);
    CHECK(profile_distance(once, louder) < 1.0);
    CHECK(profile_distance(once, twice) > 3.0);
    CHECK(profile_distance(once, twice) == doctest::Approx(profile_distance(twice, once)));
    CHECK(profile_distance({}, once) == 0.0);
}

TEST_CASE("an excerpt that is too short has no profile") {
    const std::vector<float> samples = tap({0.0}, 1);
    CHECK(!energy_profile(samples, Position(100.0), SampleRate(rate_hz)));
    CHECK(!energy_profile(samples, Position(2300.0), SampleRate(rate_hz)));
}

} // namespace
