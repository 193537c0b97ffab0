#include "compare/listening_threshold.hpp"

#include <cmath>
#include <doctest/doctest.h>
#include <vector>

using namespace retap::compare;

TEST_CASE("the curve passes chance at nothing, the target at the threshold and all but the lapses far above") {
    const ThresholdModel model;
    for (const double steepness : {1.0, 2.0, 4.0}) {
        CHECK(chance_right(1e-9, 50.0, steepness, model) == doctest::Approx(1.0 / 3.0).epsilon(1e-6));
        CHECK(chance_right(50.0, 50.0, steepness, model) == doctest::Approx(std::sqrt(0.5)).epsilon(1e-12));
        CHECK(chance_right(5000.0, 50.0, steepness, model) == doctest::Approx(0.98).epsilon(1e-6));
    }
}

TEST_CASE("answers in the proportions of a known curve give its threshold and steepness back") {
    const ThresholdModel model;
    std::vector<StaircaseTrial> trials;
    for (const double level : {10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 120.0}) {
        const auto right = static_cast<int>(std::lround(1000.0 * chance_right(level, 40.0, 2.0, model)));
        for (int i = 0; i < 1000; ++i) {
            trials.push_back({.level = level, .right = i < right});
        }
    }
    const Threshold found = fit_threshold(trials, model);
    REQUIRE(found.value.has_value());
    CHECK(std::abs(*found.value / 40.0 - 1.0) < 0.03);   // the grid is 2 % apart
    CHECK(std::abs(found.steepness / 2.0 - 1.0) < 0.16); // that of steepness 15 %
    REQUIRE(found.low.has_value());
    REQUIRE(found.high.has_value());
    CHECK(*found.low <= 40.0);
    CHECK(*found.high >= 40.0);
    CHECK(*found.high / *found.low < 1.25);
}

TEST_CASE("what the answers do not limit stays open") {
    const ThresholdModel model{.lowest = 1.0, .highest = 1000.0};
    CHECK_FALSE(fit_threshold({}, model).value.has_value());
    std::vector<StaircaseTrial> all_right(30, {.level = 50.0, .right = true});
    const Threshold keen = fit_threshold(all_right, model);
    CHECK_FALSE(keen.value.has_value());
    CHECK_FALSE(keen.low.has_value());
    REQUIRE(keen.high.has_value());
    CHECK(*keen.high < 100.0);
    std::vector<StaircaseTrial> chance;
    chance.reserve(30);
    for (int i = 0; i < 30; ++i) {
        chance.push_back({.level = 50.0, .right = i % 3 == 0});
    }
    const Threshold dull = fit_threshold(chance, model);
    CHECK_FALSE(dull.high.has_value());
    REQUIRE(dull.low.has_value());
    CHECK(*dull.low > 25.0);
}
