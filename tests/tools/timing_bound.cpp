#include "validate/timing_bound.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

namespace {

using retap::validate::gap_bound_s;

std::vector<double> gaussian(double sigma_s) {
    std::vector<double> pulse(200);
    for (std::size_t i = 0; i < pulse.size(); ++i) {
        const double t = (static_cast<double>(i) - 100.0) / 48000.0 / sigma_s;
        pulse[i] = std::exp(-0.5 * t * t);
    }
    return pulse;
}

TEST_CASE("Far apart, two arrivals are timed as well as each alone") {
    // One Gaussian pulse of sigma 0.1 ms and peak 1 in noise of 0.01: sd = noise / sqrt(sum s'^2), and by hand
    // sum s'^2 = rate sqrt(pi) / (2 sigma), which makes 0.4848 us (Kay 1993, vol. I, ex. 3.13). A second one at half
    // the size has twice that; the gap has the root of the sum of squares.
    const double one_us = 1e6 * 0.01 / std::sqrt(48000.0 * std::sqrt(3.14159265358979) / (2.0 * 1e-4));
    CHECK(one_us == doctest::Approx(0.4848).epsilon(1e-3));
    const double gap_us = 1e6 * gap_bound_s(gaussian(1e-4), {.gap_s = 1.5e-3, .second = 0.5, .noise = 0.01});
    CHECK(gap_us == doctest::Approx(one_us * std::sqrt(5.0)).epsilon(1e-3));
}

TEST_CASE("The nearer two arrivals are, the worse their gap is known") {
    const auto pulse = gaussian(1e-4);
    double nearer = gap_bound_s(pulse, {.gap_s = 0.02e-3, .noise = 0.01});
    for (const double gap_s : {0.05e-3, 0.1e-3, 0.2e-3}) {
        const double wider = gap_bound_s(pulse, {.gap_s = gap_s, .noise = 0.01});
        CHECK(wider < nearer);
        nearer = wider;
    }
    CHECK(std::isinf(gap_bound_s(pulse, {.gap_s = 0.0, .noise = 0.01})));
}

TEST_CASE("The bound grows as the noise does") {
    const auto pulse = gaussian(1e-4);
    const double quiet = gap_bound_s(pulse, {.gap_s = 0.3e-3, .noise = 0.01});
    CHECK(gap_bound_s(pulse, {.gap_s = 0.3e-3, .noise = 0.03}) == doctest::Approx(3.0 * quiet).epsilon(1e-9));
}

} // namespace
