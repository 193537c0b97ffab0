#include "dsp/filters/gcc.hpp"

#include "analysis_rate.hpp"
#include "dsp/filters/fractional_delay.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace retap::dsp;
using retap::test::add;
using retap::test::analysis_rate;
using retap::test::sampled;
using retap::test::white_noise;

namespace {

// Several damped modes at once, as a tap has.
std::vector<float> tap(double onset) {
    std::vector<float> x = sampled({0.3, 900.0, 250.0}, 4000, onset, analysis_rate.hz());
    add(x, sampled({0.3, 2300.0, 500.0}, 4000, onset, analysis_rate.hz()));
    add(x, sampled({0.2, 5100.0, 1500.0}, 4000, onset, analysis_rate.hz()));
    return x;
}

std::vector<float> rotated(std::vector<float> x, std::ptrdiff_t by) {
    std::rotate(x.begin(), x.end() - by, x.end()); // clang 14 cannot take the ranges one
    return x;
}

} // namespace

TEST_CASE("the phase transform of a rotated white noise is one impulse at the rotation") {
    // exact by construction, Knapp and Carter 1976
    const std::vector<float> x = white_noise(256, 0.2, 91);
    const GccSettings phat{.whitening = 1.0, .lowest = Frequency(0.0), .highest = Frequency(24000.0), .upsampling = 1};
    const std::vector<float> correlation = gcc(x, rotated(x, 17), analysis_rate, phat);
    for (std::size_t lag = 0; lag < correlation.size(); ++lag) {
        CAPTURE(lag);
        CHECK(std::abs(static_cast<double>(correlation[lag]) - (lag == 17 ? 1.0 : 0.0)) < 1e-5);
    }
}

TEST_CASE("without whitening it is the double loop of the cross-correlation") {
    const std::vector<float> x = white_noise(64, 0.2, 92);
    std::vector<float> y = white_noise(64, 0.1, 93);
    add(y, rotated(x, 5));
    const GccSettings plain{.whitening = 0.0, .lowest = Frequency(0.0), .highest = Frequency(24000.0), .upsampling = 1};
    const std::vector<float> got = gcc(x, y, analysis_rate, plain);
    std::vector<double> want(64, 0.0);
    for (std::size_t lag = 0; lag < 64; ++lag) {
        for (std::size_t n = 0; n < 64; ++n) {
            want[lag] += static_cast<double>(x[n]) * static_cast<double>(y[(n + lag) % 64]);
        }
    }
    const double scale = static_cast<double>(got[5]) / want[5];
    CHECK(scale > 0.0);
    for (std::size_t lag = 0; lag < 64; ++lag) {
        CHECK(static_cast<double>(got[lag]) == doctest::Approx(scale * want[lag]).epsilon(1e-4));
    }
}

TEST_CASE("upsampling puts finer values between the coarse ones and leaves those alone") {
    const std::vector<float> x = white_noise(128, 0.2, 94);
    const std::vector<float> y = rotated(x, 3);
    GccSettings settings{.whitening = 0.3, .lowest = Frequency(0.0), .highest = Frequency(24000.0)};
    settings.upsampling = 1;
    const std::vector<float> coarse = gcc(x, y, analysis_rate, settings);
    settings.upsampling = 4;
    const std::vector<float> fine = gcc(x, y, analysis_rate, settings);
    REQUIRE(fine.size() == 4 * coarse.size());
    for (std::size_t lag = 0; lag < coarse.size(); ++lag) {
        CHECK(std::abs(static_cast<double>(fine[4 * lag] - coarse[lag])) < 1e-5);
    }
}

TEST_CASE("the lead comes back with its sign to a tenth of a microsecond, in whole samples and in parts") {
    const std::vector<float> left = tap(960.0);
    for (const double samples : {0.0, 1.0, -1.0, 0.25, 0.5, -7.3, 20.0, -23.6}) {
        CAPTURE(samples);
        const std::vector<float> right = delayed(left, Length(samples));
        for (const double whitening : {0.0, 0.5}) {
            CAPTURE(whitening);
            LeadSettings settings;
            settings.correlation.whitening = whitening;
            const auto lead = left_lead(left, right, Position(960.0), analysis_rate, settings);
            REQUIRE(lead);
            CHECK(std::abs(1e3 * lead->left_lead_ms - samples / 0.048) < 0.1);
            CHECK(lead->agreement > 0.95);
        }
    }
}

TEST_CASE("gain and offset of one channel do not move the lead") {
    const std::vector<float> left = tap(960.0);
    std::vector<float> right = delayed(left, Length(4.4));
    std::ranges::transform(right, right.begin(), [](float v) { return 0.05F * v + 0.2F; });
    const auto lead = left_lead(left, right, Position(960.0), analysis_rate, {});
    REQUIRE(lead);
    CHECK(std::abs(1e3 * lead->left_lead_ms - 4.4 / 0.048) < 2.0);
}

TEST_CASE("a lag longer than the way across a head is not called travel time") {
    const std::vector<float> left = tap(960.0);
    CHECK_FALSE(left_lead(left, std::vector<float>(4000, 0.0F), Position(960.0), analysis_rate, {}));
    const std::vector<float> noise = white_noise(4000, 0.2, 95);
    LeadSettings short_range; // noise against itself moved by 1 ms: nothing inside +-0.6 ms agrees
    CHECK_FALSE(left_lead(noise, delayed(noise, Length(48.0)), Position(960.0), analysis_rate, short_range));
    CHECK_FALSE(left_lead(noise, white_noise(4000, 0.2, 96), Position(960.0), analysis_rate, {}));
}

TEST_CASE("the scatter with noise stays near the bound for two noisy channels") {
    // Quazi AH 1981 (formula from memory, checked against its band form): variance >= 3 / (8 pi^2 T) (1 + 2 SNR) /
    // SNR^2 / (f2^3 - f1^3). Flat signal and noise (so that no
    // whitening is best) from 0.5 to 8 kHz, SNR 100 in the band, T = 20 ms.
    constexpr double seconds = 0.020;
    constexpr double snr = 100.0;
    constexpr double f1 = 500.0;
    constexpr double f2 = 8000.0;
    constexpr double pi = std::numbers::pi;
    const double bound_us = 1e6 * std::sqrt(3.0 / (8.0 * pi * pi * seconds) * (1.0 + 2.0 * snr) / (snr * snr) /
                                            (f2 * f2 * f2 - f1 * f1 * f1));
    LeadSettings settings;
    settings.correlation = {.whitening = 0.0, .lowest = Frequency(f1), .highest = Frequency(f2)};
    settings.before_ms = 0.0;
    settings.after_ms = 1e3 * seconds * 1.2; // two thirds whole and one third fading: about T in effect
    constexpr unsigned trials = 200;
    double squares = 0.0;
    for (unsigned i = 0; i < trials; ++i) {
        const std::vector<float> source = white_noise(2000, 0.2, 2000 + i);
        std::vector<float> left = source;
        std::vector<float> right = delayed(source, Length(0.3)); // short, so that both see the same stretch
        add(left, white_noise(2000, 0.02, 4000 + i));
        add(right, white_noise(2000, 0.02, 6000 + i));
        const auto lead = left_lead(left, right, Position(400.0), analysis_rate, settings);
        REQUIRE(lead);
        squares += std::pow(1e3 * lead->left_lead_ms - 0.3 / 0.048, 2.0);
    }
    const double rms_us = std::sqrt(squares / trials);
    CAPTURE(bound_us);
    CHECK(rms_us > 0.8 * bound_us); // 200 trials: 5 % of sampling error; better than the bound would be a mistake
    CHECK(rms_us < 1.5 * bound_us);
}
