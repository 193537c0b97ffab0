#include "validate/match_onsets.hpp"

#include <doctest/doctest.h>

#include <vector>

namespace {

using retap::validate::match_onsets;

TEST_CASE("A double report counts once, and the other one is extra") {
    const auto match = match_onsets(std::vector{1.0, 2.0}, std::vector{1.01, 1.02, 2.0}, 0.025);
    REQUIRE(match.pairs.size() == 2);
    CHECK(match.pairs[0] == std::pair<std::size_t, std::size_t>{0, 0});
    CHECK(match.pairs[1] == std::pair<std::size_t, std::size_t>{1, 2});
    CHECK(match.missed == 0);
    CHECK(match.extra == 1);
}

TEST_CASE("An onset beyond reach on either side is both missed and extra") {
    for (const double found : {0.97, 1.03}) {
        const auto match = match_onsets(std::vector{1.0}, std::vector{found}, 0.025);
        CHECK(match.pairs.empty());
        CHECK(match.missed == 1);
        CHECK(match.extra == 1);
    }
}

TEST_CASE("Onsets that could serve two truths are shared out so that none goes without") {
    // 1.02 is within reach of both 1.00 and 1.04; 1.06 only of 1.04.
    const auto match = match_onsets(std::vector{1.0, 1.04}, std::vector{1.02, 1.06}, 0.025);
    CHECK(match.pairs.size() == 2);
    CHECK(match.missed == 0);
    CHECK(match.extra == 0);
}

TEST_CASE("Nothing found means all missed, and nothing there means all extra") {
    CHECK(match_onsets(std::vector{1.0, 2.0}, std::vector<double>{}, 0.025).missed == 2);
    CHECK(match_onsets(std::vector<double>{}, std::vector{1.0, 2.0}, 0.025).extra == 2);
}

} // namespace
