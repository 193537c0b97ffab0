#include "validate/ladder.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <utility>
#include <vector>

namespace {

using namespace retap::validate;

// Conditions 0 and 1 are unchanged, 3 to 5 are 25, 50 and 100 um.
std::vector<PairResult> patient(std::uint64_t number, double at_100, double at_50, double at_25, double at_0) {
    std::vector<PairResult> pairs;
    for (const auto& [condition, likeness] :
         std::vector<std::pair<std::size_t, double>>{{0, at_0}, {1, 1.0}, {3, at_25}, {4, at_50}, {5, at_100}}) {
        pairs.push_back({.patient = number, .condition = condition, .likeness = likeness});
    }
    return pairs;
}

TEST_CASE("the likeness climbs where each step is higher than the one before") {
    std::vector<PairResult> pairs = patient(1, 10.0, 40.0, 70.0, 95.0);
    const auto add = [&](const std::vector<PairResult>& more) { pairs.insert(pairs.end(), more.begin(), more.end()); };
    add(patient(2, 0.0, 0.0, 70.0, 95.0));   // stands still from 100 to 50 um
    add(patient(3, 10.0, 60.0, 50.0, 95.0)); // falls
    auto incomplete = patient(4, 10.0, 40.0, 70.0, 95.0);
    incomplete.pop_back();
    add(incomplete);
    const Share share = climbs(pairs, {});
    CHECK(share.hits == 1.0);
    CHECK(share.of == 3.0);
    CHECK(climbs(pairs, {.sound = Sound::strikes}).of == 0.0);
    CHECK(likenesses(pairs, {}, "25") == std::vector{50.0, 70.0, 70.0, 70.0});
}

TEST_CASE("quantiles lie straight between sorted values") {
    const std::vector<double> values{1.0, 2.0, 4.0};
    CHECK(quantile(values, 0.0) == 1.0);
    CHECK(quantile(values, 0.5) == 2.0);
    CHECK(quantile(values, 0.75) == doctest::Approx(3.0));
    CHECK(quantile(values, 1.0) == 4.0);
    CHECK(std::isnan(quantile({}, 0.5)));
}

TEST_CASE("onsets move by the difference of their errors, in unchanged pairs alone") {
    std::vector<PairResult> pairs(4);
    pairs[0].onset_bias_ms = {-0.02, 0.01};
    pairs[1].onset_bias_ms = {0.05, 0.04};
    pairs[2].onset_bias_ms = {0.05, std::nullopt};
    pairs[3].onset_bias_ms = {0.05, 0.50};
    pairs[3].condition = 4;
    const auto shifts = onset_shifts_ms(pairs, {});
    REQUIRE(shifts.size() == 2);
    CHECK(shifts[0] == doctest::Approx(0.01));
    CHECK(shifts[1] == doctest::Approx(0.03));
}

} // namespace
