#include "compare/tap_groups.hpp"

#include <doctest/doctest.h>

using namespace retap::compare;

// Expected figures are worked out by hand from the definitions.

TEST_CASE("the difference of the sides is that of the means of their taps") {
    const TapGroups groups{.side = {0, 0, 1, 1}, .take = {0, 0, 1, 1}, .kept = {0, 1, 2, 3}};
    const GroupedRows rows(groups, {{1.0, 0.0}, {3.0, 2.0}, {7.0, 1.0}, {9.0, 1.0}});
    CHECK(rows.difference() == Row{6.0, 0.0});
    CHECK(rows.degrees() == 2);
    CHECK(rows.repeats() == 0);
    CHECK(rows.variance_share() == doctest::Approx(0.5 + 0.5));
    CHECK(rows.seat_share() == doctest::Approx(1.0));
    CHECK(rows.within().at(0, 0) == doctest::Approx(1.0 + 1.0 + 1.0 + 1.0));
    CHECK(rows.within().at(0, 1) == doctest::Approx(1.0 + 1.0));
    CHECK(rows.seat_variance() == 0.0);
}

TEST_CASE("a tap that is left out leaves its side's centre") {
    const TapGroups groups{.side = {0, 0, 1, 1}, .take = {0, 0, 1, 1}, .kept = {0, 1, 3}};
    const GroupedRows rows(groups, {{1.0}, {3.0}, {100.0}, {9.0}});
    CHECK(rows.difference() == Row{7.0});
    CHECK(rows.degrees() == 1);
}

TEST_CASE("repeats show what lies between seats beyond the scatter of the taps") {
    // Side 0: takes {0, 2} and {10, 12}: centres 1 and 11 about 6, squares 25 + 25, one repeat; scatter of a tap 2 (1
    // degree each, squares 2 in every take), so a centre of two taps varies by 1. One seat: 50 - 1 = 49, two: 98.
    const TapGroups groups{.side = {0, 0, 0, 0, 1, 1}, .take = {0, 0, 1, 1, 2, 2}, .kept = {0, 1, 2, 3, 4, 5}};
    const GroupedRows rows(groups, {{0.0}, {2.0}, {10.0}, {12.0}, {5.0}, {7.0}});
    CHECK(rows.repeats() == 1);
    CHECK(rows.seat_share() == doctest::Approx(0.25 + 0.5));
    CHECK(rows.seat_variance() == doctest::Approx(98.0));
}
