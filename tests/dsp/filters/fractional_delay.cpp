#include "dsp/filters/fractional_delay.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace retap::dsp;

TEST_CASE("a sine moved by part of a sample is the sine at that time, up to nine tenths of half the rate") {
    constexpr std::size_t count = 400;
    for (const double part_of_half_rate : {0.01, 0.3, 0.7, 0.9}) {
        for (const double delay : {0.5, 0.1, -0.25, 7.77, -3.9}) {
            CAPTURE(part_of_half_rate);
            CAPTURE(delay);
            const double w = std::numbers::pi * part_of_half_rate;
            std::vector<float> sine(count);
            for (std::size_t n = 0; n < count; ++n) {
                sine[n] = static_cast<float>(std::sin(w * static_cast<double>(n)));
            }
            const std::vector<float> moved = delayed(sine, Length(delay));
            double worst = 0.0;
            for (std::size_t n = 50; n + 50 < count; ++n) { // clear of the ends, where the sine is cut off
                const double want = std::sin(w * (static_cast<double>(n) - delay));
                worst = std::max(worst, std::abs(static_cast<double>(moved[n]) - want));
            }
            CHECK(worst < 1e-4); // -80 dB
        }
    }
}

TEST_CASE("whole samples move exactly, either way, and zeros follow") {
    const std::vector<float> x{1.0F, 2.0F, 3.0F, 4.0F};
    CHECK(delayed(x, Length(0.0)) == x);
    CHECK(delayed(x, Length(1.0)) == std::vector<float>{0.0F, 1.0F, 2.0F, 3.0F});
    CHECK(delayed(x, Length(-2.0)) == std::vector<float>{3.0F, 4.0F, 0.0F, 0.0F});
    CHECK(delayed(x, Length(4.0)) == std::vector<float>(4, 0.0F));
    CHECK(delayed(x, Length(1e12)) == std::vector<float>(4, 0.0F));
    CHECK(delayed({}, Length(0.5)).empty());
}

TEST_CASE("there and back again is where it was") {
    std::vector<float> x(600);
    for (std::size_t n = 0; n < x.size(); ++n) {
        const double u = (static_cast<double>(n) - 300.0) / 4.0; // a Gaussian pulse: nothing near half the rate
        x[n] = static_cast<float>(0.5 * std::exp(-0.5 * u * u));
    }
    const std::vector<float> back = delayed(delayed(x, Length(0.37)), Length(-0.37));
    double worst = 0.0;
    for (std::size_t n = 0; n < x.size(); ++n) {
        worst = std::max(worst, std::abs(static_cast<double>(back[n] - x[n])));
    }
    CHECK(worst < 1e-5);
}
