#include "chart/holds.hpp"
#include "chart/iso_tooth.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;
using retap::test::iso;

namespace {

HoldChart holds_of(const char* text) {
    return read_holds(text, Numbering::iso);
}

} // namespace

TEST_CASE("a tooth alone stands for the pair with its namesake, whichever arch it is in") {
    CHECK(name(pair_of(iso(16)), Numbering::iso) == "16/46");
    CHECK(pair_of(iso(46)) == pair_of(iso(16)));
    CHECK(name(pair_of(iso(16)), Numbering::universal) == "3/30");
}

TEST_CASE("two teeth can be charted as a pair only if some mouth could bring them together") {
    CHECK(could_meet(iso(16), iso(47)));
    CHECK(could_meet(iso(16), iso(44))); // Class II by a tooth
    CHECK(could_meet(iso(11), iso(31))); // a shifted midline
    CHECK_FALSE(could_meet(iso(16), iso(26)));
    CHECK_FALSE(could_meet(iso(16), iso(36)));
    CHECK_FALSE(could_meet(iso(17), iso(44)));
    CHECK_FALSE(could_meet(iso(13), iso(31)));
}

TEST_CASE("the spread counts holds and tested pairs by side and by row") {
    const HoldSpread spread = spread_of(holds_of("hold 17..14 24 25; slide 26 11; open 27"));
    CHECK(spread.right.holds == 4);
    CHECK(spread.right.tested == 5);
    CHECK(spread.left.holds == 2);
    CHECK(spread.left.tested == 4);
    CHECK(spread.front.holds == 0);
    CHECK(spread.front.tested == 1);
    CHECK(spread.back.holds == 6);
    CHECK(spread.total().holds == 6);
    CHECK(sentence(spread) == "6 of 9 tested pairs hold: 4 right, 2 left; 0 front, 6 back.");
}

TEST_CASE("the spread says what was not tested instead of counting it as no hold") {
    CHECK(sentence(spread_of({})) == "No tooth pair was tested with film.");
    CHECK(sentence(spread_of(holds_of("hold 16"))) ==
          "1 of 1 tested pair holds: 1 right, left not tested; front not tested, 1 back.");
}

TEST_CASE("few holds are told once enough pairs were tested, and none holding at once") {
    CHECK(few_holds(holds_of("hold 16 26 27; open 14")));
    CHECK_FALSE(few_holds(holds_of("hold 16 26 27 14")));
    CHECK_FALSE(few_holds(holds_of("hold 16 26 27")));
    CHECK(few_holds(holds_of("open 16 15 14")));
    CHECK(few_holds(holds_of("slide 16")));
    // nothing is left to test: three are all that this mouth has
    CHECK(few_holds(holds_of("hold 16 26 27; untestable 17 15..25")));
    CHECK_FALSE(few_holds(holds_of("untestable 17..27")));
}

TEST_CASE("what is left to test is every upper tooth but the third molars, unless it cannot be tested") {
    CHECK(left_to_test(holds_of("hold 17..14 24..27; open 13..23")).empty());
    CHECK(list(left_to_test(holds_of("hold 17..14 24/35 26 27; open 13..23")), Numbering::iso) == "25");
    CHECK(left_to_test(holds_of("hold 17..27; missing 18")).empty());
    CHECK(list(left_to_test(holds_of("hold 17..12 21..27; untestable 11")), Numbering::iso) == "no tooth");
}

TEST_CASE("what cannot be tested is no test, in the spread as well") {
    CHECK(spread_of(holds_of("hold 16; untestable 17 26")).total().tested == 1);
}

TEST_CASE("one-sided means a side that was tested and holds nowhere, not merely fewer") {
    CHECK(side_without_holds(spread_of(holds_of("hold 16 17; open 26"))) == Side::left);
    CHECK(side_without_holds(spread_of(holds_of("slide 16 17; hold 26"))) == Side::right);
    CHECK_FALSE(side_without_holds(spread_of(holds_of("hold 16 17 14 26; open 27"))));
    CHECK_FALSE(side_without_holds(spread_of(holds_of("hold 16 17"))));
    CHECK_FALSE(side_without_holds(spread_of(holds_of("open 16 26"))));
}
