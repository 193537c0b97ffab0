#include "chart/changes.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace retap::chart;

namespace {

const std::vector<Tooth> treated_16 = read_teeth("16", Numbering::iso);

LookCharts look(const char* holds, const char* marks) {
    LookCharts charts;
    if (holds != nullptr) {
        charts.holds = read_holds(holds, Numbering::iso);
    }
    if (marks != nullptr) {
        charts.marks = read_marks(marks, Numbering::iso);
    }
    return charts;
}

Changes holds_changed(const char* before, const char* now) {
    return what_changed(look(before, nullptr), look(now, nullptr), treated_16);
}

Changes marks_changed(const char* before, const char* now) {
    return what_changed(look(nullptr, before), look(nullptr, now), treated_16);
}

bool says(const Changes& changes, const std::string& sentence) {
    const auto said = sentences(changes, Numbering::iso);
    return std::find(said.begin(), said.end(), sentence) != said.end();
}

} // namespace

TEST_CASE("holds are lost, gained, left untested or tested for the first time") {
    const Changes c = holds_changed("hold 16 17 26 27; slide 14; open 24", "hold 17 14 25; slide 16; open 26 24");
    CHECK(list(c.holds_lost, Numbering::iso) == "16/46 and 26/36");
    CHECK(list(c.holds_gained, Numbering::iso) == "14/44");
    CHECK(list(c.holds_untested, Numbering::iso) == "27/37");
    CHECK(list(c.holds_first, Numbering::iso) == "25/35");
    CHECK(list(c.holds_lost_elsewhere, Numbering::iso) == "26/36");
    CHECK(list(c.holds_lost_on_treated, Numbering::iso) == "16/46");
    CHECK_FALSE(c.holds_equal());
    CHECK(says(c, "Holds were lost at 16/46 and 26/36."));
    CHECK(says(c, "A hold was gained at 14/44."));
    CHECK(says(c, "A pair tested before was not tested now: 27/37."));
}

TEST_CASE("slide and open are both no hold: going from one to the other loses and gains nothing") {
    const Changes c = holds_changed("hold 17; slide 16", "hold 17; open 16");
    CHECK(c.holds_equal());
    CHECK(says(c, "Every pair that held before holds now, and no other does."));
}

TEST_CASE("a pair tested for the first time does not make holds unequal") {
    CHECK(holds_changed("hold 17", "hold 17 16").holds_equal());
}

TEST_CASE("without charts at both looks nothing is compared, and that is said") {
    const Changes c = what_changed(look("hold 16", "16 CF"), look(nullptr, "working 16 MB/in"), treated_16);
    CHECK_FALSE(c.holds_compared);
    CHECK_FALSE(c.centric_compared);
    CHECK_FALSE(c.holds_equal());
    CHECK_FALSE(c.centric_equal());
    CHECK(says(c, "The film holds cannot be compared: they were not charted at both looks."));
    CHECK(says(c, "The centric marks cannot be compared: they were not charted at both looks."));
}

TEST_CASE("marks off the treated tooth are new or gone by place, whatever their weight") {
    const Changes c = marks_changed("16 MP 26 MP 36 MB", "16 MP* 26 MP- 37 MB");
    CHECK(list(c.marks_new, Numbering::iso) == "mesiobuccal cusp of 37");
    CHECK(list(c.marks_gone, Numbering::iso) == "mesiobuccal cusp of 36");
    CHECK_FALSE(c.centric_equal());
}

TEST_CASE(
    "a restoration may take a contact that the tooth did not have, and the mark it had is the mark it should have") {
    const Changes more = marks_changed("16 CF 26 MP", "16 CF~ DMR* 26 MP");
    CHECK(more.marks_new.empty());
    CHECK(more.centric_equal());
    CHECK(says(more, "The centric marks are as before."));
    const Changes moved = marks_changed("16 CF 26 MP", "16 DMR* 26 MP");
    CHECK(list(moved.treated_marks_gone, Numbering::iso) == "central fossa of 16");
    CHECK(moved.marks_gone.empty());
    CHECK_FALSE(moved.centric_equal());
    CHECK(says(moved, "A centric mark that the treated tooth had is gone: central fossa of 16."));
}

TEST_CASE("a mark beside the restoration is new as on any other tooth, and one that is not said is asked for") {
    CHECK(list(marks_changed("16 CF", "16 CF* MP~").marks_new, Numbering::iso) == "mesiopalatal cusp of 16");
    const Changes open = marks_changed("16 CF", "16 CF MP");
    CHECK(open.marks_new.empty());
    CHECK(open.place_not_said.size() == 2);
    CHECK(open.treated.at(0).after == Support::not_said);
    CHECK_FALSE(open.centric_equal());
    CHECK(says(open, "It is not said whether this lies on the restoration or beside it: mesiopalatal cusp of 16 and "
                     "central fossa of 16."));
    // an eccentric mark goes with the centric one at its place
    CHECK(marks_changed("16 CF", "16 CF*; working 16 CF").place_not_said.empty());
    CHECK(marks_changed("16 CF", "16 CF*; working 16 MB").place_not_said.size() == 1);
}

TEST_CASE("a mark heavier than the rest counts as a change only when it was not so before") {
    CHECK(list(marks_changed("16 CF 26 MP 36 MB", "16 CF+* 26 MP 36 MB").marks_heavier, Numbering::iso) ==
          "central fossa of 16");
    CHECK(marks_changed("16 CF+ 26 MP 36 MB", "16 CF+* 26 MP 36 MB").marks_heavier.empty());
}

TEST_CASE("a heavy mark on the restoration is known from a heavy one elsewhere on the tooth") {
    CHECK(marks_changed("16 CF 26 MP 36 MB", "16 CF+* 26 MP 36 MB").treated.at(0).heavier);
    CHECK_FALSE(marks_changed("16 CF 26 MP 36 MB", "16 CF+~ DMR* 26 MP 36 MB").treated.at(0).heavier);
    CHECK_FALSE(marks_changed("16 CF+ 26 MP 36 MB", "16 CF+* 26 MP 36 MB").treated.at(0).heavier);
    CHECK(marks_changed("16 CF+ 26 MP 36 MB", "16 DMR+* 26 MP 36 MB").treated.at(0).heavier);
}

TEST_CASE("the restoration carries a stop, an incline contact or nothing, and only marks said to be on it count") {
    CHECK(marks_changed("16 CF", "16 CF* 26 MP").treated.at(0).after == Support::stop);
    CHECK(marks_changed("16 CF", "16 MB/in* 26 MP").treated.at(0).after == Support::incline_only);
    CHECK(marks_changed("16 CF", "16 CF~ 26 MP").treated.at(0).after == Support::none);
    CHECK(marks_changed("16 CF", "16 CF~ 26 MP").treated.at(0).stop_beside);
    CHECK_FALSE(marks_changed("16 CF", "16 MB~ 26 MP").treated.at(0).stop_beside);
    CHECK(marks_changed("16 CF", "16 MB* MP/in*").treated.at(0).after == Support::guiding_only);
    CHECK(marks_changed("16 CF", "working none").treated.at(0).after == Support::not_marked);
    CHECK(says(marks_changed("16 CF", "26 MP"), "There is no stop on the restoration of 16."));
    CHECK(says(marks_changed("26 MP", "26 MP"),
               "There is no stop on the restoration of 16; there was none on this tooth before."));
    CHECK(says(marks_changed("16 CF", "16 MB/in*"), "The restoration of 16 has contact on an incline only."));
}

TEST_CASE("before the work the whole tooth counts, unless an old restoration was starred") {
    CHECK(marks_changed("16 CF", "16 CF*").treated.at(0).before == Support::stop);
    CHECK(marks_changed("16 CF MB/in*", "16 CF*").treated.at(0).before == Support::incline_only);
}

TEST_CASE("a tooth without a stop before and after is as before") {
    CHECK(marks_changed("26 MP", "26 MP").centric_equal());
    CHECK_FALSE(marks_changed("16 CF 26 MP", "26 MP").centric_equal());
}

TEST_CASE("a change on the side that was not treated is told, by holds or by marks") {
    CHECK(holds_changed("hold 17 26", "hold 17; open 26").other_side_changed == Side::left);
    CHECK(marks_changed("16 CF 36 MB", "16 CF*").other_side_changed == Side::left);
    CHECK_FALSE(holds_changed("hold 17 26", "open 17; hold 26").other_side_changed);
}

TEST_CASE("with both sides treated there is no other side") {
    const Changes c = what_changed(look("hold 17 26", nullptr), look("hold 17; open 26", nullptr),
                                   read_teeth("16 27", Numbering::iso));
    CHECK_FALSE(c.other_side_changed);
}

TEST_CASE("sentences use the clinic's numbering") {
    const auto said = sentences(holds_changed("hold 26", "open 26"), Numbering::universal);
    CHECK(std::find(said.begin(), said.end(), "A hold was lost at 14/19.") != said.end());
}
