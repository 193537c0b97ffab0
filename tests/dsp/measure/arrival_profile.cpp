#include "dsp/measure/arrival_profile.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace retap;
using dsp::arrival_bands;
using dsp::arrival_shares;
using retap::test::analysis_rate;

namespace {

constexpr std::size_t arrival_onset = 960;

auto profile(const std::vector<float>& sound, double at = static_cast<double>(arrival_onset)) {
    return dsp::ArrivalMeter(analysis_rate, {}).measure(sound, dsp::Position(at));
}

/// A damped sine in the middle band.
std::vector<float> ringing(double decay_per_s) {
    const test::DampedSine sine{.amplitude = 0.5, .frequency_hz = 1900.0, .decay_per_s = decay_per_s};
    std::vector<float> sound(2400, 0.0F);
    for (std::size_t i = arrival_onset; i < sound.size(); ++i) {
        sound[i] = static_cast<float>(sine.at(static_cast<double>(i - arrival_onset) / analysis_rate.hz()));
    }
    return sound;
}

} // namespace

TEST_CASE("all of a click arrives at the arrival_onset, in every band") {
    std::vector<float> click(2400, 0.0F);
    click[arrival_onset] = 0.5F;
    for (const auto& band : profile(click)) {
        REQUIRE(band);
        for (const double ms : *band) {
            CHECK(std::abs(ms) < 1e-9);
        }
    }
}

// The energy of exp(-a t) until t is 1 - exp(-2 a t) of all: closed form. In a band 2.5 kHz wide a tone builds up over
// some 1/B, 0.4 ms, of which a click's own delay takes off about half; the sine ripples by less than 0.05 ms.
TEST_CASE("the energy of a ringing sound arrives as its decay says") {
    for (const double decay_per_s : {150.0, 300.0, 600.0}) {
        CAPTURE(decay_per_s);
        const auto band = profile(ringing(decay_per_s))[1];
        REQUIRE(band);
        const double all = 1.0 - std::exp(-2.0 * decay_per_s * 0.010);
        for (std::size_t s = 0; s < arrival_shares.size(); ++s) {
            const double expected_ms = -1000.0 * std::log(1.0 - arrival_shares.at(s) * all) / (2.0 * decay_per_s);
            CHECK(std::abs(band->at(s) - expected_ms) < 0.25);
        }
    }
}

TEST_CASE("a second contact as strong brings the second half of the energy when it lands") {
    std::vector<float> two(2400, 0.0F);
    two[arrival_onset] = 0.5F;
    two[arrival_onset + 144] = 0.5F; // 3 ms later
    for (const auto& band : profile(two)) {
        REQUIRE(band);
        CHECK(std::abs(band->front()) < 0.2); // a tenth of all is a fifth of the first
        CHECK(band->back() == doctest::Approx(3.0).epsilon(0.1));
    }
}

TEST_CASE("gain, polarity, an offset and the arrival_onset's place between samples move no arrival") {
    std::vector<float> sound = ringing(400.0);
    const auto plain = profile(sound);
    std::ranges::transform(sound, sound.begin(), [](float v) { return 0.02F - 0.1F * v; });
    const auto turned = profile(sound);
    const auto later = profile(sound, static_cast<double>(arrival_onset) + 0.5);
    for (std::size_t s = 0; s < arrival_shares.size(); ++s) {
        REQUIRE(plain[1]);
        REQUIRE(turned[1]);
        REQUIRE(later[1]);
        CHECK(turned[1]->at(s) == doctest::Approx(plain[1]->at(s)).epsilon(0.01));
        CHECK(later[1]->at(s) == doctest::Approx(turned[1]->at(s) - 0.5 / 48.0));
    }
}

TEST_CASE("noise alone has no profile, and neither has a tap that was cut too short") {
    for (const auto& band : profile(test::white_noise(2400, 0.01, 7))) {
        CHECK_FALSE(band);
    }
    CHECK_FALSE(profile(ringing(400.0), 500.0)[1]);
    CHECK_FALSE(profile(ringing(400.0), 2100.0)[1]);
    CHECK_FALSE(profile(std::vector<float>(2400, 0.0F))[1]);
}
