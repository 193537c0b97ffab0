// The rivals must be fair: each does what its name says, so that what Retap is judged beside is the real thing.
#include "validate/rivals.hpp"
#include "bite/random.hpp"
#include "validate/first_arrival.hpp"
#include "validate/mfcc.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

namespace {

using namespace retap;
const dsp::SampleRate rate(48000.0);

std::vector<float> noise(std::size_t count, double size) {
    bite::Random random(11, "noise");
    std::vector<float> out(count);
    for (float& x : out) {
        x = static_cast<float>(random.normal(0.0, size));
    }
    return out;
}

TEST_CASE("MFCCs do not move with gain and do with colour") {
    std::vector<float> sound = noise(1920, 0.1);
    const auto plain = validate::mfcc(sound, rate);
    std::vector<float> louder = sound;
    for (float& x : louder) {
        x *= 4.0F;
    }
    std::vector<float> duller = sound;
    for (std::size_t i = 1; i < duller.size(); ++i) {
        duller[i] = 0.5F * (duller[i - 1] + sound[i]);
    }
    const auto loud = validate::mfcc(louder, rate);
    const auto dull = validate::mfcc(duller, rate);
    for (std::size_t c = 0; c < validate::mfcc_count; ++c) {
        CHECK(loud.at(c) == doctest::Approx(plain.at(c)).epsilon(1e-3).scale(1.0));
    }
    CHECK(dull[0] > plain[0] + 1.0); // more of the low bands: the first cosine is positive there
}

TEST_CASE("The AIC pick finds where noise turns louder, to a few samples") {
    std::vector<float> sound = noise(800, 0.01);
    for (std::size_t i = 500; i < sound.size(); ++i) {
        sound[i] *= 30.0F;
    }
    const auto pick = validate::aic_pick(sound);
    REQUIRE(pick);
    CHECK(std::abs(static_cast<double>(*pick) - 500.0) <= 5.0);
    CHECK_FALSE(validate::aic_pick(std::vector<float>(5, 0.0F)));
}

TEST_CASE("First arrival to energy measures how long a light contact comes ahead") {
    std::vector<float> excerpt = noise(7200, 1e-4);
    const std::size_t onset = 960;
    const auto strike = [&](std::size_t at, double size) {
        for (std::size_t i = at; i < excerpt.size(); ++i) {
            const double t = static_cast<double>(i - at) / 48000.0;
            excerpt[i] += static_cast<float>(size * std::exp(-t / 0.002) * std::cos(2.0 * 3.14159265 * 2000.0 * t));
        }
    };
    strike(onset, 0.05); // 1 % of the energy of the main one: under the 2 % asked for
    strike(onset + 96, 0.5);
    const auto ms = validate::first_arrival_to_energy_ms(excerpt, dsp::Position(static_cast<double>(onset)), rate);
    REQUIRE(ms);
    CHECK(*ms == doctest::Approx(2.0).epsilon(0.06)); // the main one needs some samples to bring its share
}

TEST_CASE("Correlation is 1 for a shifted, smaller copy and low for something else") {
    std::vector<double> a(1500);
    std::vector<double> b(1500);
    std::vector<double> c(1500);
    const auto other = noise(1500, 1.0);
    const auto sound = noise(1500, 1.0);
    for (std::size_t i = 100; i < 1400; ++i) {
        a[i] = static_cast<double>(sound[i]);
        b[i + 40] = 0.3 * a[i];
    }
    bite::Random random(5, "other");
    for (double& x : c) {
        x = random.normal(0.0, 1.0);
    }
    CHECK(validate::peak_correlation(a, b, 144) == doctest::Approx(1.0).epsilon(1e-12));
    CHECK(validate::peak_correlation(a, b, 30) < 0.3);
    CHECK(validate::peak_correlation(a, c, 144) < 0.2);
    CHECK(validate::peak_correlation(a, std::vector<double>(1500, 0.0), 144) == 0.0);
}

TEST_CASE("A rival that has heard nothing sees no change") {
    const auto distances = validate::rival_distances({}, {});
    for (const double d : distances) {
        CHECK(d == 0.0);
    }
}

} // namespace
