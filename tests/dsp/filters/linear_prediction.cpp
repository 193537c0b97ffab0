#include "dsp/filters/linear_prediction.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

constexpr LinearPredictionSettings plain{.line_width = 0.0, .white_noise = 0.0};

double energy(std::span<const float> x) {
    return autocorrelation(x, 0)[0];
}

// what two resonances make of a drive: (1 - 2 r cos w z^-1 + r^2 z^-2) for r, w = 0.98, 0.3 and 0.9, 1.2, inverted
std::vector<double> resonator() {
    const double a1 = 2.0 * 0.98 * std::cos(0.3);
    const double a2 = 0.98 * 0.98;
    const double b1 = 2.0 * 0.9 * std::cos(1.2);
    const double b2 = 0.9 * 0.9;
    return {1.0, -a1 - b1, a2 + a1 * b1 + b2, -a1 * b2 - a2 * b1, a2 * b2};
}

std::vector<float> ring(const std::vector<float>& drive) {
    const std::vector<double> c = resonator();
    std::vector<double> y(drive.begin(), drive.end());
    for (std::size_t n = 0; n < y.size(); ++n) {
        for (std::size_t k = 1; k < c.size() && k <= n; ++k) {
            y[n] -= c[k] * y[n - k];
        }
    }
    return {y.begin(), y.end()};
}

std::vector<float> ringing_noise(std::size_t count, unsigned seed) {
    return ring(retap::test::white_noise(count, 0.1, seed));
}

} // namespace

TEST_CASE("the autocorrelation is the sum of products at each lag") {
    const std::vector<float> x{1.0F, 2.0F, -3.0F}; // 1+4+9; 2-6; -3; 0
    CHECK(autocorrelation(x, 3) == std::vector<double>{14.0, -4.0, -3.0, 0.0});
    CHECK(autocorrelation({}, 1) == std::vector<double>{0.0, 0.0});
}

TEST_CASE("the recursion solves the normal equations, as a general solver does") {
    const std::vector<float> x = ringing_noise(3000, 11);
    for (const std::size_t order : {1U, 2U, 7U, 32U}) {
        for (const LinearPredictionSettings& settings :
             {plain, LinearPredictionSettings{}, LinearPredictionSettings{.line_width = 0.002, .white_noise = 1e-3}}) {
            CAPTURE(order);
            CAPTURE(settings.line_width);
            const std::vector<double> r = autocorrelation(x, order);
            const LinearPrediction model = fit_linear_prediction(r, order, settings);
            const auto n = static_cast<Eigen::Index>(order);
            Eigen::VectorXd windowed(n + 1);
            for (Eigen::Index i = 0; i <= n; ++i) {
                const double phase = 2.0 * std::numbers::pi * settings.line_width * static_cast<double>(i);
                windowed[i] = r[static_cast<std::size_t>(i)] * std::exp(-phase * phase / 2.0);
            }
            windowed[0] += settings.white_noise * windowed[0];
            Eigen::MatrixXd matrix(n, n);
            for (Eigen::Index i = 0; i < n; ++i) {
                for (Eigen::Index j = 0; j < n; ++j) {
                    matrix(i, j) = windowed[std::abs(i - j)];
                }
            }
            const Eigen::VectorXd want = matrix.ldlt().solve(-windowed.tail(n));
            REQUIRE(model.coefficients.size() == order + 1);
            CHECK(model.coefficients[0] == 1.0);
            for (Eigen::Index i = 0; i < n; ++i) {
                CHECK(model.coefficients[static_cast<std::size_t>(i) + 1] == doctest::Approx(want[i]).epsilon(1e-6));
            }
            const double left = 1.0 + want.dot(windowed.tail(n)) / windowed[0];
            CHECK(model.gain == doctest::Approx(left).epsilon(1e-6));
        }
    }
}

TEST_CASE("what rang through two resonances comes out as the two strikes that went in") {
    // The autocorrelation of an all-pole impulse response gives back its poles exactly (Makhoul J 1975, Proc IEEE
    // 63:561, from memory); single precision of the samples is what limits it here.
    std::vector<float> strikes(4000, 0.0F);
    strikes[100] = 0.6F;
    const LinearPrediction model = fit_linear_prediction(autocorrelation(ring(strikes), 4), 4, plain);
    for (std::size_t k = 0; k <= 4; ++k) {
        CHECK(model.coefficients[k] == doctest::Approx(resonator()[k]).epsilon(1e-4));
    }
    strikes[150] = -0.3F; // the same body struck again
    const std::vector<float> residual = prediction_residual(ring(strikes), model);
    double worst = 0.0;
    for (std::size_t n = 0; n < strikes.size(); ++n) {
        worst = std::max(worst, std::abs(static_cast<double>(residual[n] - strikes[n])));
    }
    CHECK(worst < 1e-4);
}

TEST_CASE("the gain is the energy the filter leaves, and never below zero") {
    const std::vector<float> x = ringing_noise(4000, 12);
    std::vector<float> padded = x;
    padded.resize(x.size() + 8, 0.0F); // what the filter rings on for belongs to it
    const LinearPrediction model = fit_linear_prediction(autocorrelation(x, 8), 8, plain);
    CHECK(model.gain == doctest::Approx(energy(prediction_residual(padded, model)) / energy(x)).epsilon(1e-5));
    // an undamped sine is predicted without error by two coefficients; the correction keeps the recursion above zero
    std::vector<float> sine(48000);
    for (std::size_t n = 0; n < sine.size(); ++n) {
        sine[n] = static_cast<float>(std::sin(0.2 * static_cast<double>(n)));
    }
    CHECK(fit_linear_prediction(autocorrelation(sine, 32), 32, {}).gain > 0.0);
}

TEST_CASE("silence, one sample and a constant give a filter and no numbers out of range") {
    const LinearPrediction silent = fit_linear_prediction(autocorrelation(std::vector<float>(100, 0.0F), 3), 3, {});
    CHECK(silent.coefficients == std::vector<double>{1.0, 0.0, 0.0, 0.0});
    CHECK(silent.gain == 0.0);
    CHECK(prediction_residual({}, silent).empty());
    const LinearPrediction click = fit_linear_prediction(autocorrelation(std::vector<float>{0.5F}, 3), 3, {});
    CHECK(click.coefficients == std::vector<double>{1.0, 0.0, 0.0, 0.0});
    CHECK(click.gain == doctest::Approx(1.0));
    const LinearPrediction constant = fit_linear_prediction(autocorrelation(std::vector<float>(50, 0.3F), 32), 32, {});
    for (const double c : constant.coefficients) {
        CHECK(std::isfinite(c));
    }
    CHECK(fit_linear_prediction(autocorrelation(std::vector<float>{0.5F}, 0), 0, {}).coefficients.size() == 1);
}

TEST_CASE("taps of any level count alike in the shared model, and the noise as often as it is told") {
    const retap::test::DampedSine a{.amplitude = 0.5, .frequency_hz = 1500.0, .decay_per_s = 400.0};
    const retap::test::DampedSine b{.amplitude = 0.001, .frequency_hz = 4000.0, .decay_per_s = 800.0};
    const auto loud = retap::test::sampled(a, 4800, 960.0, analysis_rate.hz());
    const auto soft = retap::test::sampled(b, 4800, 960.0, analysis_rate.hz());
    const std::vector<TapSound> taps{{loud, Position(960.0)}, {soft, Position(960.0)}};
    const std::vector<double> shared = shared_autocorrelation(taps, analysis_rate, 16, {});
    const std::vector<double> one = autocorrelation(std::span(loud).subspan(912, 1488), 16);
    const std::vector<double> two = autocorrelation(std::span(soft).subspan(912, 1488), 16);
    for (std::size_t lag = 0; lag <= 16; ++lag) {
        CHECK(shared[lag] == doctest::Approx(one[lag] / one[0] + two[lag] / two[0]));
    }
    // White noise 0.01 adds noise_part * samples * 1e-4 over the energy at lag 0. 864 samples of quiet under a Hann
    // window know their power to sqrt(2 * 1.94 / 864) = 6.7 %, 16 taps together to 1.7 %; three times that.
    std::vector<std::vector<float>> noisy(16, loud);
    std::vector<TapSound> noisy_taps;
    for (std::size_t i = 0; i < noisy.size(); ++i) {
        retap::test::add(noisy[i], retap::test::white_noise(4800, 0.01, static_cast<unsigned>(100 + i)));
        noisy_taps.push_back({noisy[i], Position(960.0)});
    }
    const std::vector<double> with = shared_autocorrelation(noisy_taps, analysis_rate, 16, {.noise_part = 20.0});
    const double expected = 20.0 * 1488.0 * 1e-4 / (one[0] + 1488.0 * 1e-4);
    CHECK(with[0] / 16.0 - 1.0 == doctest::Approx(expected).epsilon(0.05));
}

TEST_CASE("excerpts too short for the model are passed over") {
    const std::vector<float> silence(4800, 0.0F);
    const std::vector<float> short_one(10, 0.1F);
    const std::vector<TapSound> taps{{silence, Position(960.0)}, {{}, Position(0.0)}, {short_one, Position(9000.0)}};
    CHECK(shared_autocorrelation(taps, analysis_rate, 4, {}) == std::vector<double>(5, 0.0));
    CHECK(shared_autocorrelation({}, analysis_rate, 2, {}) == std::vector<double>(3, 0.0));
}
