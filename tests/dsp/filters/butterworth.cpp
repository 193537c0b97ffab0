#include "dsp/filters/butterworth.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

double gain_at(const Butterworth& filter, double hz) {
    std::vector<double> response(4800, 0.0);
    response[0] = 1.0;
    filter.apply(response);
    std::complex<double> sum;
    for (std::size_t i = 0; i < response.size(); ++i) {
        sum +=
            response[i] * std::polar(1.0, -2.0 * std::numbers::pi * hz * static_cast<double>(i) / analysis_rate.hz());
    }
    return std::abs(sum);
}

} // namespace

// The squared gain of the analogue filter is 1 / (1 + (f / cut-off)^4); the bilinear transform puts tan(pi f /
// analysis_rate) in place of f (textbooks, from memory).
TEST_CASE("second-order filters have the gain of the Butterworth prototype at every frequency") {
    for (const double cut_off : {700.0, 14000.0}) {
        CAPTURE(cut_off);
        const Butterworth low = Butterworth::low_pass(Frequency(cut_off), analysis_rate);
        const Butterworth high = Butterworth::high_pass(Frequency(cut_off), analysis_rate);
        CHECK(gain_at(low, cut_off) == doctest::Approx(std::numbers::sqrt2 / 2.0).epsilon(1e-6));
        for (const double hz : {50.0, 300.0, 700.0, 2500.0, 9000.0, 14000.0, 20000.0}) {
            CAPTURE(hz);
            const double ratio = std::tan(std::numbers::pi * hz / analysis_rate.hz()) /
                                 std::tan(std::numbers::pi * cut_off / analysis_rate.hz());
            CHECK(gain_at(low, hz) == doctest::Approx(1.0 / std::sqrt(1.0 + std::pow(ratio, 4.0))).epsilon(1e-6));
            CHECK(gain_at(high, hz) == doctest::Approx(1.0 / std::sqrt(1.0 + std::pow(ratio, -4.0))).epsilon(1e-6));
        }
    }
}

TEST_CASE("a filter says nothing before there is something") {
    std::vector<double> samples(100, 0.0);
    samples[60] = 1.0;
    Butterworth::high_pass(Frequency(700.0), analysis_rate).apply(samples);
    for (std::size_t i = 0; i < 60; ++i) {
        CHECK(samples[i] == 0.0);
    }
    CHECK(samples[60] > 0.9);
}
