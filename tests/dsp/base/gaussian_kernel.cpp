#include "dsp/base/gaussian_kernel.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

using retap::dsp::half_gaussian;

TEST_CASE("a half bell falls as a Gaussian does, reaches three deviations and sums to 1 over both sides") {
    for (const double sigma : {0.2, 1.0, 3.0, 4.1}) {
        CAPTURE(sigma);
        const std::vector<float> side = half_gaussian(sigma);
        REQUIRE(side.size() == static_cast<std::size_t>(std::ceil(3.0 * sigma)) + 1);
        auto sum = static_cast<double>(side[0]);
        for (std::size_t i = 1; i < side.size(); ++i) {
            sum += 2.0 * static_cast<double>(side[i]);
            const double z = static_cast<double>(i) / sigma;
            CHECK(static_cast<double>(side[i] / side[0]) == doctest::Approx(std::exp(-0.5 * z * z)).epsilon(1e-5));
        }
        CHECK(sum == doctest::Approx(1.0).epsilon(1e-6)); // single precision
    }
}
