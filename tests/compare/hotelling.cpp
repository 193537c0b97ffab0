#include "compare/hotelling.hpp"

#include "compare/distributions.hpp"
#include "compare/statistics.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace retap::compare;

namespace {

using Rows = std::vector<std::vector<double>>;

// Johnson and Wichern, Applied Multivariate Statistical Analysis, Table 5.1: sweat rate, sodium, potassium of 20
// people.
const Rows sweat{{3.7, 48.5, 9.3},  {5.7, 65.1, 8.0},  {3.8, 47.2, 10.9}, {3.2, 53.2, 12.0}, {3.1, 55.5, 9.7},
                 {4.6, 36.1, 7.9},  {2.4, 24.8, 14.0}, {7.2, 33.1, 7.6},  {6.7, 47.4, 8.5},  {5.4, 54.1, 11.3},
                 {3.9, 36.9, 12.7}, {4.5, 58.8, 12.3}, {3.5, 27.8, 9.8},  {4.5, 40.2, 8.4},  {1.5, 13.5, 10.1},
                 {8.5, 56.4, 7.1},  {4.5, 71.6, 8.2},  {6.5, 52.8, 10.9}, {4.1, 44.1, 11.2}, {5.5, 40.9, 9.4}};

Rows random_rows(std::size_t n, double shift, unsigned seed) {
    std::mt19937 engine(seed);
    std::normal_distribution<double> normal;
    Rows rows(n);
    for (auto& row : rows) {
        const double common = normal(engine);
        row = {common + shift, 0.5 * common + normal(engine), 2.0 * normal(engine)};
    }
    return rows;
}

} // namespace

TEST_CASE("T squared of the sweat data against (4, 50, 10) is 9.74") {
    const auto test = hotelling_one_group(sweat, std::vector<double>{4.0, 50.0, 10.0});
    REQUIRE(test);
    CHECK(test->t_squared == doctest::Approx(9.738773).epsilon(1e-6));
    CHECK(test->f == doctest::Approx(2.904546).epsilon(1e-6));
    CHECK(test->degrees_top == 3.0);
    CHECK(test->degrees_bottom == 17.0);
    CHECK(test->p == doctest::Approx(0.0649283).epsilon(1e-5));
    // T squared at the 10 % point: 19 * 3 / 17 times that of F
    CHECK(19.0 * 3.0 / 17.0 * f_quantile(0.9, 3.0, 17.0) == doctest::Approx(8.172573).epsilon(1e-6));
}

TEST_CASE("with one measure it is the square of the pooled t test") {
    const std::vector<double> a{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7};
    const std::vector<double> b{1.9, 0.8, 1.1, 0.1, 4.4};
    const Moments ma = moments(a);
    const Moments mb = moments(b);
    const double pooled = (6.0 * ma.sd * ma.sd + 4.0 * mb.sd * mb.sd) / 10.0;
    const double t = (ma.mean - mb.mean) / std::sqrt(pooled * (1.0 / 7.0 + 1.0 / 5.0));
    Rows first;
    Rows second;
    for (const double v : a) {
        first.push_back({v});
    }
    for (const double v : b) {
        second.push_back({v});
    }
    const auto test = hotelling_two_groups(first, second);
    REQUIRE(test);
    CHECK(test->t_squared == doctest::Approx(t * t).epsilon(1e-12));
    CHECK(test->p == doctest::Approx(2.0 * student_below(-std::abs(t), 10.0)).epsilon(1e-10));
}

TEST_CASE("units, and mixing measures into each other, do not matter; nor which group comes first") {
    const Rows first = random_rows(9, 0.0, 81);
    const Rows second = random_rows(7, 1.0, 82);
    const auto plain = hotelling_two_groups(first, second);
    REQUIRE(plain);
    const auto mixed = [](Rows rows) {
        for (auto& row : rows) {
            row = {1000.0 * row[0] - 3.0, row[0] + row[1] + 1e-3 * row[2], row[2] - 2.0 * row[1]};
        }
        return rows;
    };
    const auto other = hotelling_two_groups(mixed(first), mixed(second));
    REQUIRE(other);
    CHECK(other->t_squared == doctest::Approx(plain->t_squared).epsilon(1e-9));
    CHECK(hotelling_two_groups(second, first)->t_squared == doctest::Approx(plain->t_squared).epsilon(1e-12));
}

TEST_CASE("too few rows, or measures that say the same, give no answer") {
    const Rows three(sweat.begin(), sweat.begin() + 3);
    CHECK_FALSE(hotelling_one_group(three, std::vector<double>{4.0, 50.0, 10.0}));
    CHECK_FALSE(
        hotelling_two_groups(Rows(sweat.begin(), sweat.begin() + 2), Rows(sweat.begin() + 2, sweat.begin() + 4)));
    CHECK_FALSE(hotelling_two_groups({}, sweat));
    Rows doubled = sweat;
    for (auto& row : doubled) {
        row[2] = 2.0 * row[0] + 1.0;
    }
    CHECK_FALSE(hotelling_one_group(doubled, std::vector<double>{4.0, 50.0, 10.0}));
    CHECK_FALSE(hotelling_one_group(Rows(5, {1.0, 2.0}), std::vector<double>{1.0, 1.0})); // nothing varies
}

TEST_CASE("groups from one source reject one time in twenty at the 5 % level") {
    int rejected = 0;
    constexpr int draws = 2000;
    for (unsigned i = 0; i < draws; ++i) {
        const auto test = hotelling_two_groups(random_rows(7, 0.0, 1000 + i), random_rows(8, 0.0, 500000 + i));
        REQUIRE(test);
        rejected += test->p < 0.05 ? 1 : 0;
    }
    CHECK(std::abs(rejected / 2000.0 - 0.05) < 0.015); // three binomial standard deviations
}
