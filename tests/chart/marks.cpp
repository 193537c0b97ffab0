#include "chart/marks.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;

namespace {

MarkChart marks_of(const char* text) {
    return read_marks(text, Numbering::iso);
}

std::string names(const std::vector<Mark>& marks) {
    return list(marks, Numbering::iso);
}

} // namespace

TEST_CASE("a stop is a centric mark on a supporting cusp, a fossa or a ridge, and not on an incline") {
    const MarkChart marks = marks_of("centric 16 CF MB/in; working 16 MP");
    REQUIRE(marks.marks.size() == 3);
    for (const char* text :
         {"16 MP", "16 DP", "46 MB", "46 DB", "46 D", "14 P", "44 B", "16 MMR", "46 CF", "11 E", "13 C"}) {
        CAPTURE(text);
        CHECK(is_stop(marks_of(text).marks.front()));
    }
    // guiding cusps: upper buccal, lower lingual (drjrosen.com/cd127, Spear Education 2015)
    for (const char* text : {"16 MB", "16 DB", "14 B", "46 ML", "44 L", "16 MP/in"}) {
        CAPTURE(text);
        CHECK_FALSE(is_stop(marks_of(text).marks.front()));
    }
    for (const Mark& mark : marks.marks) {
        CHECK(is_stop(mark) == (mark.place.spot == Spot::central_fossa));
    }
}

TEST_CASE("a place in a centric and in an eccentric group carries both, and is no eccentric-only mark") {
    const MarkChart marks = marks_of("centric 16 MP CF; non-working 16 MP MP/in 47 DB/in");
    CHECK(names(both_stages(marks)) == "mesiopalatal cusp of 16");
    CHECK(names(eccentric_only(marks, Stage::non_working)) ==
          "inner incline of the mesiopalatal cusp of 16 and inner incline of the distobuccal cusp of 47");
    CHECK(eccentric_only(marks, Stage::working).empty());
}

TEST_CASE("an incline that carries a centric mark too is left out of the eccentric-only marks") {
    CHECK(eccentric_only(marks_of("centric 47 DB/in; non-working 47 DB/in"), Stage::non_working).empty());
}

TEST_CASE("an eccentric-only mark counts on a cusp, a ridge or in a fossa as on an incline") {
    CHECK(eccentric_only(marks_of("working 16 MB CF DMR MB/in"), Stage::working).size() == 4);
}

TEST_CASE("guidance on front teeth is no eccentric-only mark") {
    CHECK(names(eccentric_only(marks_of("protrusive 11 E/in 13 C/dis 14 B/dis"), Stage::protrusive)) ==
          "distal incline of the buccal cusp of 14");
    CHECK(eccentric_only(marks_of("working 13 C/in"), Stage::working).empty());
}

TEST_CASE("a mark is heavier than the rest when it clears the middle of the others") {
    CHECK(names(heavier_than_the_rest(marks_of("16 CF+ 26 CF 36 MB"))) == "central fossa of 16");
    CHECK(names(heavier_than_the_rest(marks_of("16 CF 26 CF- 36 MB-"))) == "central fossa of 16");
    CHECK(heavier_than_the_rest(marks_of("16 CF 26 CF 36 MB")).empty());
    CHECK(heavier_than_the_rest(marks_of("16 CF+ 26 CF+ 36 MB+")).empty());
    // two others, one of them as heavy: the heavier of the middle two is not cleared
    CHECK(heavier_than_the_rest(marks_of("16 CF+ 26 CF+ 36 MB")).empty());
}

TEST_CASE("a single heavy mark stands out though there is nothing to compare it with, a single even one does not") {
    CHECK(names(heavier_than_the_rest(marks_of("16 CF+"))) == "central fossa of 16");
    CHECK(heavier_than_the_rest(marks_of("16 CF")).empty());
}

TEST_CASE("weights of eccentric marks play no part in what stands out in centric") {
    CHECK(heavier_than_the_rest(marks_of("centric 16 CF 26 CF; working 17 MB/in+")).empty());
}
