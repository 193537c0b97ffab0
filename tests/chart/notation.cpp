#include "chart/notation.hpp"
#include "chart/iso_tooth.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include <random>

using namespace retap::chart;
using retap::test::iso;

namespace {} // namespace

TEST_CASE("holds are typed as results followed by teeth, pairs and rows") {
    const HoldChart chart = read_holds("hold 17..15, 36/25; Slide 14\nopen 11", Numbering::iso);
    CHECK(chart.size() == 6);
    CHECK(result_of(chart, pair_of(iso(16))) == Film::hold);
    CHECK(result_of(chart, TeethPair{iso(25), iso(36)}) == Film::hold);
    CHECK(result_of(chart, pair_of(iso(14))) == Film::slide);
    CHECK(result_of(chart, pair_of(iso(41))) == Film::open);
    CHECK_FALSE(result_of(chart, pair_of(iso(26))));
}

TEST_CASE("one letter is enough for a film result, and an ISO number may have its dot") {
    CHECK(read_holds("h 1.6 s 26 o 36/2.7", Numbering::iso) ==
          read_holds("hold 16 slide 26 open 27/36", Numbering::iso));
    CHECK(read_holds("h 1.6..1.4", Numbering::iso) == read_holds("h 16..14", Numbering::iso));
}

TEST_CASE("a row of teeth runs along the arch across the midline, either way") {
    const HoldChart chart = read_holds("hold 12..22", Numbering::iso);
    CHECK(chart.size() == 4);
    CHECK(chart == read_holds("hold 22..12", Numbering::iso));
    CHECK(chart == read_holds("hold 7..10", Numbering::universal));
    CHECK(read_holds("hold 32..17", Numbering::universal).size() == 16);
}

TEST_CASE("the same digits are other teeth in the other numbering, and a prefix overrules the one passed in") {
    CHECK(read_holds("hold 11", Numbering::universal) == read_holds("hold 23", Numbering::iso));
    CHECK(read_holds("universal: hold 11", Numbering::iso) == read_holds("hold 23", Numbering::iso));
    CHECK(read_marks("iso: 16 CF", Numbering::universal) == read_marks("16 CF", Numbering::iso));
}

TEST_CASE("marks are typed as teeth followed by places with their signs") {
    const MarkChart chart = read_marks("centric 16 mp+ CF* 47 MB/in-*; working none", Numbering::iso);
    CHECK(chart.stages == std::set{Stage::centric, Stage::working});
    REQUIRE(chart.marks.size() == 3);
    CHECK(chart.marks[0] ==
          Mark{iso(16), {Spot::mesiolingual_cusp, {}}, Stage::centric, Weight::heavy, Where::not_said});
    CHECK(chart.marks[1] == Mark{iso(16), {Spot::central_fossa, {}}, Stage::centric, Weight::even, Where::restoration});
    CHECK(chart.marks[2] ==
          Mark{iso(47), {Spot::mesiobuccal_cusp, Facing::inner}, Stage::centric, Weight::light, Where::restoration});
}

TEST_CASE("a mark lies on the restoration, beside it, or it is not said; and centric may be marked again") {
    const MarkChart chart = read_marks("centric 16 MP~+ CF* DP; working 16 MB again", Numbering::iso);
    CHECK(chart.marks[0].where == Where::not_said);
    CHECK(chart.marks[1].where == Where::beside);
    CHECK(chart.marks[1].weight == Weight::heavy);
    CHECK(chart.centric_again);
    CHECK(write_marks(chart, Numbering::iso) == "centric 16 MP+~ DP CF*; working 16 MB; again");
    CHECK_FALSE(read_marks("16 CF; working none", Numbering::iso).centric_again);
}

TEST_CASE("film that cannot be tried is untestable, in short or as missing") {
    CHECK(read_holds("hold 16 u 17 missing 14", Numbering::iso) ==
          read_holds("hold 16; untestable 17 14", Numbering::iso));
    CHECK(write_holds(read_holds("missing 18, hold 16", Numbering::iso), Numbering::iso) == "hold 16; untestable 18");
}

TEST_CASE("marks without a stage are centric, and stages may be shortened") {
    CHECK(read_marks("16 CF", Numbering::iso) == read_marks("cen 16 CF", Numbering::iso));
    CHECK(read_marks("cen none work 16 MB/in non 47 DB/in pro none", Numbering::iso) ==
          read_marks("centric none; working 16 MB/in; Non-Working 47 DB/in; protrusive none", Numbering::iso));
    CHECK(read_marks("none", Numbering::iso).stages == std::set{Stage::centric});
}

TEST_CASE("teeth alone can be listed, and come in chart order") {
    CHECK(read_teeth("36, 16", Numbering::iso) == std::vector{iso(16), iso(36)});
    CHECK(read_teeth("14..16", Numbering::iso) == std::vector{iso(16), iso(15), iso(14)});
    CHECK(write_teeth(read_teeth("36 16", Numbering::iso), Numbering::universal) == "3 19");
}

TEST_CASE("what is written reads back to the same chart, in both numberings (1000 random charts, seed 20260301)") {
    std::mt19937 random(20260301);
    const auto chance = [&](unsigned one_in) { return random() % one_in == 0; };
    for (int round = 0; round < 1000; ++round) {
        HoldChart holds;
        MarkChart marks;
        for (const Tooth tooth : all_teeth()) {
            for (const Tooth other : all_teeth()) {
                if (tooth.arch() == Arch::upper && could_meet(tooth, other) && chance(6)) {
                    holds[TeethPair{tooth, other}] = static_cast<Film>(random() % 4);
                }
            }
            for (const Spot spot : spots_of(tooth)) {
                const auto stage = static_cast<Stage>(random() % 4);
                if (chance(5)) {
                    Place place{spot, std::nullopt};
                    if (has_inclines(spot) && chance(2)) {
                        place.incline = static_cast<Facing>(random() % 4);
                    }
                    marks.stages.insert(stage);
                    marks.marks.push_back(
                        {tooth, place, stage, static_cast<Weight>(random() % 3), static_cast<Where>(random() % 3)});
                }
            }
        }
        std::sort(marks.marks.begin(), marks.marks.end());
        marks.centric_again = marks.has_eccentric() && chance(2);
        const Numbering numbering = chance(2) ? Numbering::iso : Numbering::universal;
        CAPTURE(round);
        REQUIRE(read_holds(write_holds(holds, numbering), numbering) == holds);
        REQUIRE(read_marks(write_marks(marks, numbering), numbering) == marks);
    }
}

TEST_CASE("the written form groups by result or stage, in chart order, with namesakes as one tooth") {
    const HoldChart holds = read_holds("o 37, h 36/25 46/16, h 17", Numbering::iso);
    CHECK(write_holds(holds, Numbering::iso) == "hold 17 16 25/36; open 27");
    CHECK(write_holds(holds, Numbering::universal) == "hold 2 3 13/19; open 15");
    CHECK(write_marks(read_marks("work 26 mb/in 16 cf-* ml cen none", Numbering::iso), Numbering::iso) ==
          "centric none; working 16 MP CF-* 26 MB/in");
}
