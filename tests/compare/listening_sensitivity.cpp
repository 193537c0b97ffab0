#include "compare/listening_sensitivity.hpp"

#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

using namespace retap::compare;

namespace {

// d' for proportions of right answers: tables in Macmillan NA, Creelman CD, Detection Theory, recomputed to three
// decimals from the models' formulas by a separate script; unbiased listener, so false alarms are 1 - p.
struct PublishedRow {
    double right;
    double yes_no;
    double one_of_two;
};
constexpr std::array<PublishedRow, 6> table{{{0.60, 0.507, 0.358},
                                             {0.70, 1.049, 0.742},
                                             {0.75, 1.349, 0.954},
                                             {0.80, 1.683, 1.190},
                                             {0.90, 2.563, 1.812},
                                             {0.95, 3.290, 2.326}}};
constexpr double half_digit = 0.0005001; // the table rounds to three decimals

} // namespace

TEST_CASE("d' agrees with the published table for yes or no and for one of two") {
    for (const PublishedRow& row : table) {
        CAPTURE(row.right);
        CHECK(std::abs(sensitivity_yes_no(row.right, 1.0 - row.right) - row.yes_no) <= half_digit);
        CHECK(std::abs(sensitivity_one_of_two(row.right) - row.one_of_two) <= half_digit);
    }
}

TEST_CASE("d' agrees with the published table for the odd one of three") {
    CHECK(std::abs(sensitivity_in_triangle(0.60) - 1.976) <= half_digit);
    CHECK(std::abs(sensitivity_in_triangle(0.75) - 2.797) <= half_digit);
    CHECK(std::abs(sensitivity_in_triangle(0.80) - 3.129) <= half_digit);
}

TEST_CASE("who cannot tell three sounds apart is right a third of the time") {
    CHECK(right_in_triangle(0.0) == doctest::Approx(1.0 / 3.0).epsilon(1e-9));
    CHECK(sensitivity_in_triangle(0.2) == 0.0);
    CHECK(right_in_triangle(12.0) > 0.99999);
}

TEST_CASE("the odd one of three is found as often as by drawing the sounds and picking the farthest") {
    std::mt19937_64 engine(20310);
    std::normal_distribution<double> noise;
    constexpr int draws = 200000;
    const double d = 1.7;
    int right = 0;
    for (int i = 0; i < draws; ++i) {
        const double a = noise(engine);
        const double b = noise(engine);
        const double odd = d + noise(engine);
        // The odd one lies outside when the other two are nearer to each other than either is to it.
        right += std::abs(a - b) < std::min(std::abs(a - odd), std::abs(b - odd)) ? 1 : 0;
    }
    // Four standard errors of a proportion near 0.5 from so many draws are 0.0045.
    CHECK(std::abs(static_cast<double>(right) / draws - right_in_triangle(d)) < 0.0045);
}

TEST_CASE("same or different is answered as often as by drawing two sounds and taking their distance") {
    std::mt19937_64 engine(771);
    std::normal_distribution<double> noise;
    constexpr int draws = 200000;
    const double d = 1.4;
    const double limit = 1.9;
    int hits = 0;
    int false_alarms = 0;
    for (int i = 0; i < draws; ++i) {
        hits += std::abs(d + noise(engine) - noise(engine)) > limit ? 1 : 0;
        false_alarms += std::abs(noise(engine) - noise(engine)) > limit ? 1 : 0;
    }
    const auto rates = same_different_rates(d, limit);
    CHECK(std::abs(static_cast<double>(hits) / draws - rates.hits) < 0.0045); // as above
    CHECK(std::abs(static_cast<double>(false_alarms) / draws - rates.false_alarms) < 0.0045);
}

TEST_CASE("d' comes back from the answers of a listener whose d' is known, whatever their leaning") {
    for (const double d : {1.0, 2.0, 3.0}) {
        for (const double limit : {0.8, 1.5, 2.5}) {
            const auto rates = same_different_rates(d, limit);
            const auto out_of_10000 = [](double rate) { return static_cast<std::size_t>(std::lround(1e4 * rate)); };
            const auto found = same_different_sensitivity({.different = 10000,
                                                           .different_called = out_of_10000(rates.hits),
                                                           .same = 10000,
                                                           .same_called_different = out_of_10000(rates.false_alarms)},
                                                          0.95);
            CAPTURE(d);
            CAPTURE(limit);
            REQUIRE(found.has_value());
            CHECK(std::abs(found->value - d) <= 0.0401); // two steps of the grid
            CHECK(found->low <= d);
            REQUIRE(found->high.has_value());
            CHECK(*found->high >= d);
        }
    }
}

TEST_CASE("answers by chance leave d' of nothing inside the interval, and perfect ones set no upper bound") {
    const auto chance = same_different_sensitivity(
        {.different = 20, .different_called = 10, .same = 20, .same_called_different = 10}, 0.95);
    REQUIRE(chance.has_value());
    CHECK(chance->low == 0.0);
    const auto perfect = same_different_sensitivity(
        {.different = 10, .different_called = 10, .same = 10, .same_called_different = 0}, 0.95);
    REQUIRE(perfect.has_value());
    CHECK(perfect->low > 1.0);
    CHECK_FALSE(perfect->high.has_value());
    CHECK_FALSE(same_different_sensitivity({.different = 5, .different_called = 2}, 0.95).has_value());
}
