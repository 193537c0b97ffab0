#include "dsp/measure/decay.hpp"

#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace retap::dsp;

namespace {

// amplitude exp(-t / tau), in samples
std::vector<float> exponential(std::size_t count, double tau, double amplitude) {
    std::vector<float> x(count);
    for (std::size_t n = 0; n < count; ++n) {
        x[n] = static_cast<float>(amplitude * std::exp(-static_cast<double>(n) / tau));
    }
    return x;
}

constexpr Level no_noise{-300.0};

} // namespace

TEST_CASE("a pure exponential has the same decay time in every range: 6.9078 tau") {
    // ISO 3382-1; 60 dB in amplitude is ln(1000) = 6.907755 time constants
    for (const double tau : {20.0, 100.0, 480.0}) {
        CAPTURE(tau);
        const std::vector<float> x = exponential(static_cast<std::size_t>(20.0 * tau), tau, 0.7);
        for (const DecayRange& range : {early_decay, decay_t20, decay_t30}) {
            const auto time = decay_time(x, no_noise, range);
            REQUIRE(time);
            CHECK(time->samples() == doctest::Approx(6.907755 * tau).epsilon(1e-4));
        }
    }
}

TEST_CASE("the curve is the plain sum of what is left, in decibels below the whole") {
    const std::vector<float> x{3.0F, -2.0F, 1.0F}; // squares 9 4 1; left 14 5 1
    const std::vector<double> curve = decay_curve_db(x, no_noise);
    REQUIRE(curve.size() == 3);
    CHECK(curve[0] == 0.0);
    CHECK(curve[1] == doctest::Approx(10.0 * std::log10(5.0 / 14.0)));
    CHECK(curve[2] == doctest::Approx(10.0 * std::log10(1.0 / 14.0)));
}

TEST_CASE("a decay in two slopes has an early time below its T20") {
    std::vector<float> x = exponential(9600, 60.0, 1.0);
    retap::test::add(x, exponential(9600, 600.0, 0.05));
    const auto early = decay_time(x, no_noise, early_decay);
    const auto later = decay_time(x, no_noise, decay_t20);
    REQUIRE(early);
    REQUIRE(later);
    CHECK(early->samples() < 0.5 * later->samples());
}

TEST_CASE("steady noise of known level hardly moves the early decay time") {
    std::vector<float> x = exponential(3840, 240.0, 1.0);
    retap::test::add(x, retap::test::white_noise(3840, 0.01, 41)); // 40 dB below the peak
    const auto time = decay_time(x, Level(-40.0), early_decay);
    REQUIRE(time);
    // Energy of the sound 120, noise energy 0.38 with a standard error of 0.009 after its mean is taken off: 1 % covers
    // it and the cross term (sd 2 * 0.01 * sqrt(120) = 0.22, or 0.2 % of the energy, mostly early where it counts
    // little)
    CHECK(time->samples() == doctest::Approx(6.907755 * 240.0).epsilon(0.01));
}

TEST_CASE("no decay time is made up where the range cannot be seen") {
    CHECK_FALSE(decay_time({}, no_noise, early_decay));
    CHECK_FALSE(decay_time(std::vector<float>(500, 0.0F), no_noise, early_decay));
    CHECK_FALSE(decay_time(std::vector<float>(500, 0.5F), no_noise, early_decay)); // a steady tone does not decay
    CHECK_FALSE(decay_time(exponential(300, 240.0, 1.0), no_noise, early_decay));  // cut off after 11 dB
    CHECK_FALSE(decay_time(std::vector<float>{1.0F}, no_noise, early_decay));
    const std::vector<float> noise = retap::test::white_noise(3840, 0.01, 42);
    CHECK_FALSE(decay_time(noise, Level(-39.0), early_decay));  // nothing above the noise
    std::vector<float> buried = exponential(3840, 240.0, 0.03); // 9 dB over the noise: the range ends under it
    retap::test::add(buried, noise);
    CHECK_FALSE(decay_time(buried, Level(-40.0), early_decay));
}

TEST_CASE("a window just long enough shortens the result by a few per cent and no more") {
    // -10 dB is reached at 1.1513 tau, allowed up to half the window, so 2.31 tau and up are accepted
    const auto time = decay_time(exponential(2320, 1000.0, 1.0), no_noise, early_decay);
    REQUIRE(time);
    CHECK(time->samples() > 0.93 * 6907.755);
    CHECK(time->samples() < 6907.755);
}
