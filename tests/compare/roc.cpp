#include "compare/roc.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

using namespace retap::compare;

namespace {

// Every pair and every triple of the definition.
RocArea by_counting(const std::vector<double>& low, const std::vector<double>& high) {
    const auto wins = [](double h, double l) { return h > l ? 1.0 : h == l ? 0.5 : 0.0; };
    // two of one kind against one of the other: in the right order, tied with one (half), tied with both (a third)
    const auto both = [&](double a, double b) { return a == 0.5 && b == 0.5 ? 1.0 / 3.0 : a * b; };
    double pairs = 0.0;
    double q1 = 0.0;
    double q2 = 0.0;
    for (const double l : low) {
        for (const double h : high) {
            pairs += wins(h, l);
            for (const double other : high) {
                q1 += both(wins(h, l), wins(other, l));
            }
            for (const double other : low) {
                q2 += both(wins(h, l), wins(h, other));
            }
        }
    }
    const auto nl = static_cast<double>(low.size());
    const auto nh = static_cast<double>(high.size());
    const double area = pairs / (nl * nh);
    const double spread =
        (nh - 1.0) * (q1 / (nl * nh * nh) - area * area) + (nl - 1.0) * (q2 / (nh * nl * nl) - area * area);
    return {area, std::sqrt((area * (1.0 - area) + spread) / (nl * nh))};
}

} // namespace

TEST_CASE("area and standard error of the rating table of Hanley and McNeil 1982, Radiology 143:29-36") {
    // Ratings 1 to 5 of 58 normal and 51 abnormal images (table from memory, results recomputed from it): 0.893 and
    // 0.032
    constexpr std::array<int, 5> normal{33, 6, 6, 11, 2};
    constexpr std::array<int, 5> abnormal{3, 2, 2, 11, 33};
    std::vector<double> low;
    std::vector<double> high;
    for (std::size_t i = 0; i < 5; ++i) {
        low.insert(low.end(), static_cast<std::size_t>(normal[i]), static_cast<double>(i + 1));
        high.insert(high.end(), static_cast<std::size_t>(abnormal[i]), static_cast<double>(i + 1));
    }
    const RocArea roc = roc_area(low, high);
    CHECK(roc.area == doctest::Approx(0.8931711).epsilon(1e-6));
    CHECK(roc.standard_error == doctest::Approx(0.0319904).epsilon(1e-5));
}

TEST_CASE("the area is what counting all pairs and triples gives, with ties and without") {
    constexpr unsigned seed = 71;
    CAPTURE(seed);
    std::mt19937 engine(seed);
    for (const int levels : {3, 12, 100000}) {
        std::uniform_int_distribution<int> any(0, levels);
        std::vector<double> low(23);
        std::vector<double> high(17);
        for (double& v : low) {
            v = any(engine);
        }
        const int higher_by = levels / 3; // whole levels, so that there are ties
        for (double& v : high) {
            v = any(engine) + higher_by;
        }
        const RocArea got = roc_area(low, high);
        const RocArea want = by_counting(low, high);
        CHECK(got.area == doctest::Approx(want.area).epsilon(1e-12));
        CHECK(got.standard_error == doctest::Approx(want.standard_error).epsilon(1e-9));
    }
}

TEST_CASE("perfect, reversed and useless scores") {
    const std::vector<double> low{1.0, 2.0};
    const std::vector<double> high{3.0, 4.0, 5.0};
    CHECK(roc_area(low, high).area == 1.0);
    CHECK(roc_area(low, high).standard_error == 0.0);
    CHECK(roc_area(high, low).area == 0.0);
    CHECK(roc_area(std::vector<double>{7.0, 7.0}, std::vector<double>{7.0}).area == 0.5);
}
