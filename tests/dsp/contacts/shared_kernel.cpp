#include "dsp/contacts/shared_kernel.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace retap::dsp;

namespace {

constexpr std::size_t bins = 120;

// 0.4 to 12 kHz in steps of a hundred hertz, as angular frequencies per millisecond
TapSpectra empty_spectra() {
    return {.first_radians = 2.0 * 3.14159265358979 * 0.4, .step_radians = 2.0 * 3.14159265358979 * 0.1};
}

Complex played(const TapSpectra& s, const Playing& p, std::size_t f) {
    const double w = s.first_radians + s.step_radians * static_cast<double>(f);
    return std::exp(p.log_level) * std::polar(1.0, -w * p.delay_ms) * (1.0 + p.ratio * std::polar(1.0, -w * p.lag_ms));
}

std::vector<Playing> six_taps() {
    return {{.delay_ms = 0.0, .log_level = 0.0, .lag_ms = 0.60, .ratio = 0.5},
            {.delay_ms = 0.01, .log_level = 0.2, .lag_ms = 0.63, .ratio = 0.6},
            {.delay_ms = -0.01, .log_level = -0.1, .lag_ms = 0.57, .ratio = 0.4},
            {.delay_ms = 0.004, .log_level = 0.0, .lag_ms = 0.61, .ratio = 0.5},
            {.delay_ms = 0.0, .log_level = 0.1, .lag_ms = 0.59, .ratio = 0.7},
            {.delay_ms = -0.003, .log_level = 0.0, .lag_ms = 0.62, .ratio = 0.5}};
}

TapSpectra made(const std::vector<Playing>& taps, double noise, unsigned seed) {
    std::mt19937 engine(seed);
    std::normal_distribution<double> normal(0.0, 1.0);
    std::vector<Complex> sound(bins);
    for (Complex& k : sound) {
        k = Complex(normal(engine), normal(engine));
    }
    TapSpectra s = empty_spectra();
    for (const Playing& p : taps) {
        s.taps.emplace_back();
        for (std::size_t f = 0; f < bins; ++f) {
            s.taps.back().push_back(played(s, p, f) * sound[f] + noise * Complex(normal(engine), normal(engine)));
        }
    }
    return s;
}

} // namespace

TEST_CASE("taps that play one sound twice are fitted exactly from a start nearby") {
    const std::vector<Playing> truth = six_taps();
    const TapSpectra s = made(truth, 0.0, 31);
    std::vector<Playing> start(truth.size(), {.lag_ms = 0.605, .ratio = 0.5});
    const KernelFit fit = fit_shared_kernel(s, start, Arrivals::two, 0.2, 5.0, 40);
    CHECK(fit.residual < 1e-3); // of some 1500
    for (std::size_t i = 0; i < truth.size(); ++i) {
        CHECK(fit.playing[i].lag_ms == doctest::Approx(truth[i].lag_ms).epsilon(1e-3));
        CHECK(fit.playing[i].ratio == doctest::Approx(truth[i].ratio).epsilon(1e-2));
        // delay and level of all together are the sound's own
        CHECK(fit.playing[i].delay_ms - fit.playing[0].delay_ms ==
              doctest::Approx(truth[i].delay_ms - truth[0].delay_ms).epsilon(1e-3));
    }
}

TEST_CASE("the residual is what the best sound at each frequency leaves, by the plain formula") {
    const TapSpectra s = made(six_taps(), 0.3, 32);
    const KernelFit fit =
        fit_shared_kernel(s, std::vector<Playing>(6, {.lag_ms = 0.6, .ratio = 0.5}), Arrivals::two, 0.2, 5.0, 6);
    double left = 0.0;
    for (std::size_t f = 0; f < bins; ++f) {
        Complex agreement = 0.0;
        double power = 0.0;
        double all = 0.0;
        for (std::size_t i = 0; i < 6; ++i) {
            const Complex p = played(s, fit.playing[i], f);
            agreement += std::conj(p) * s.taps[i][f];
            power += std::norm(p);
            all += std::norm(s.taps[i][f]);
        }
        left += all - std::norm(agreement) / power;
        CHECK(std::abs(fit.sound[f] - agreement / power) < 1e-6);
    }
    CHECK(fit.residual == doctest::Approx(left).epsilon(1e-9));
}

TEST_CASE("with one arrival lag and ratio stay, with two lags keep their sign and their limits") {
    const TapSpectra s = made(six_taps(), 0.1, 33);
    const std::vector<Playing> start(6, {.lag_ms = 0.7, .ratio = 0.0});
    for (const Playing& p : fit_shared_kernel(s, start, Arrivals::one, 0.2, 5.0, 10).playing) {
        CHECK(p.lag_ms == 0.7);
        CHECK(p.ratio == 0.0);
    }
    const std::vector<Playing> before(6, {.lag_ms = -0.22, .ratio = 0.5});
    for (const Playing& p : fit_shared_kernel(s, before, Arrivals::two, 0.2, 0.25, 10).playing) {
        CHECK(p.lag_ms <= -0.2);
        CHECK(p.lag_ms >= -0.25);
        CHECK(p.ratio >= 0.0);
    }
}
