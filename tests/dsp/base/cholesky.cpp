#include "dsp/base/cholesky.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <limits>
#include <random>
#include <vector>

using namespace retap::dsp;

TEST_CASE("a matrix of three is solved as by hand") {
    // L = (2; 1 3; 3 -1 1), so M = L L' = (4 2 6; 2 10 0; 6 0 11), and M (1, 2, 3) = (26, 22, 39).
    const std::vector<double> rows{4.0, 2.0, 6.0, 2.0, 10.0, 0.0, 6.0, 0.0, 11.0};
    const auto factor = Cholesky::factor(rows, 3);
    REQUIRE(factor);
    const std::vector<double> x = factor->solve(std::vector{26.0, 22.0, 39.0});
    REQUIRE(x.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(x[i] == doctest::Approx(static_cast<double>(i + 1)).epsilon(1e-12));
    }
    // d = M x: d' M^-1 d = d' x = 26 + 44 + 117.
    CHECK(factor->squared_distance(std::vector{26.0, 22.0, 39.0}) == doctest::Approx(187.0).epsilon(1e-12));
}

TEST_CASE(
    "what was multiplied by a random positive definite matrix is found again, and only its lower triangle is read") {
    std::mt19937 engine(20311105);
    std::normal_distribution<double> value;
    for (const std::size_t n : {1U, 2U, 7U, 40U, 90U}) {
        CAPTURE(n);
        std::vector<double> root(n * n);
        std::ranges::generate(root, [&] { return value(engine); });
        std::vector<double> rows(n * n, 0.0);
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) {
                for (std::size_t k = 0; k < n; ++k) {
                    rows[i * n + j] += root[i * n + k] * root[j * n + k];
                }
            }
            rows[i * n + i] += 1.0; // condition of a few hundred: some thirteen digits are left
        }
        std::vector<double> want(n);
        std::ranges::generate(want, [&] { return value(engine); });
        std::vector<double> b(n, 0.0);
        double distance = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j) {
                b[i] += rows[i * n + j] * want[j];
            }
            distance += want[i] * b[i];
        }
        for (std::size_t i = 0; i < n; ++i) {
            std::fill_n(rows.begin() + static_cast<std::ptrdiff_t>(i * n + i + 1), n - i - 1, -1e9);
        }
        const auto factor = Cholesky::factor(rows, n);
        REQUIRE(factor);
        const std::vector<double> x = factor->solve(b);
        for (std::size_t i = 0; i < n; ++i) {
            CHECK(x[i] == doctest::Approx(want[i]).epsilon(1e-9));
        }
        CHECK(factor->squared_distance(b) == doctest::Approx(distance).epsilon(1e-9));
    }
}

TEST_CASE("a matrix that is not positive definite, or only by rounding, has no factor") {
    CHECK_FALSE(Cholesky::factor(std::vector{0.0}, 1));
    CHECK_FALSE(Cholesky::factor(std::vector{-1.0}, 1));
    CHECK_FALSE(Cholesky::factor(std::vector{1.0, 2.0, 2.0, 1.0}, 2));
    CHECK_FALSE(Cholesky::factor(std::vector{std::numeric_limits<double>::quiet_NaN()}, 1));
    const std::vector<double> nearly{1.0, 1.0, 1.0, 1.0 + 1e-13};
    CHECK(Cholesky::factor(nearly, 2));
    CHECK_FALSE(Cholesky::factor(nearly, 2, 1e-12));
}
