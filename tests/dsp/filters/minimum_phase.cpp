#include "dsp/filters/minimum_phase.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using retap::dsp::minimum_phase;

TEST_CASE("the phase that goes with the magnitude of a one-pole filter is that filter's own") {
    // 1 / (1 - a/z) with |a| < 1 has its pole within the unit circle and is its own minimum-phase version: textbook
    // fact, from memory
    for (const double a : {0.5, -0.8}) {
        std::vector<double> log_magnitude(257);
        std::vector<double> expected(257);
        for (std::size_t k = 0; k < 257; ++k) {
            const double w = std::numbers::pi * static_cast<double>(k) / 256.0;
            const std::complex<double> h = 1.0 / (1.0 - a * std::polar(1.0, -w));
            log_magnitude[k] = std::log(std::abs(h));
            expected[k] = std::arg(h);
        }
        const std::vector<float> phase = minimum_phase(log_magnitude);
        REQUIRE(phase.size() == 257);
        for (std::size_t k = 0; k < 257; ++k) {
            CHECK(std::abs(static_cast<double>(phase[k]) - expected[k]) < 1e-5);
        }
    }
}

TEST_CASE("a filter that only changes the level turns no phase") {
    for (const float angle : minimum_phase(std::vector<double>(100, 0.7))) {
        CHECK(std::abs(angle) < 1e-6F);
    }
}
