#include "bite/random.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using retap::bite::Random;

TEST_CASE("one seed and stream give one series, another seed or stream another") {
    Random a(7, "teeth");
    Random b(7, "teeth");
    Random other_seed(8, "teeth");
    Random other_stream(7, "jaw");
    for (int i = 0; i < 100; ++i) {
        const auto bits = a.bits();
        CHECK(bits == b.bits());
        CHECK(bits != other_seed.bits());
        CHECK(bits != other_stream.bits());
    }
}

TEST_CASE("normal numbers have the mean, spread and tails of the normal distribution") {
    // n = 200000: standard errors 0.0022 of the mean, 0.0016 of the SD, 0.0002 of a 1 % tail; limits at 5 of them.
    Random random(11, "normal");
    constexpr int n = 200000;
    double sum = 0.0;
    double squares = 0.0;
    int beyond = 0; // 2.5758 SD: 1 % two-sided
    for (int i = 0; i < n; ++i) {
        const double x = random.normal(0.0, 1.0);
        sum += x;
        squares += x * x;
        beyond += std::abs(x) > 2.5758 ? 1 : 0;
    }
    CHECK(std::abs(sum / n) < 0.011);
    CHECK(std::sqrt(squares / n) == doctest::Approx(1.0).epsilon(0.008));
    CHECK(static_cast<double>(beyond) / n == doctest::Approx(0.01).epsilon(0.11));
}

TEST_CASE("neighbouring seeds are not related") {
    double product = 0.0;
    constexpr int n = 20000;
    for (int i = 0; i < n; ++i) {
        Random a(static_cast<std::uint64_t>(i), "x");
        Random b(static_cast<std::uint64_t>(i + 1), "x");
        product += a.normal(0.0, 1.0) * b.normal(0.0, 1.0);
    }
    CHECK(std::abs(product / n) < 5.0 / std::sqrt(n));
}

TEST_CASE("ranges are kept: uniform, uniform in the logarithm, whole numbers") {
    Random random(3, "ranges");
    std::vector<int> seen(5, 0);
    for (int i = 0; i < 10000; ++i) {
        const double u = random.uniform(-2.0, 3.0);
        CHECK((u >= -2.0 && u < 3.0));
        const double l = random.log_uniform(0.01, 100.0);
        CHECK((l >= 0.01 && l < 100.0));
        ++seen.at(random.below(5));
    }
    for (const int count : seen) {
        CHECK(count == doctest::Approx(2000).epsilon(0.1));
    }
}
