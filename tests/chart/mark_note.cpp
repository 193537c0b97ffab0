#include "chart/mark_note.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;

namespace {

MarkNote note_of(const std::string& text, const Crossbite& crossbite = {}) {
    const MarkChart chart = read_marks(text, Numbering::iso);
    REQUIRE(chart.marks.size() == 1);
    return note_of(chart.marks.front(), false, crossbite, Numbering::iso);
}

using Letters = std::vector<std::string_view>;

} // namespace

TEST_CASE("each mark is told by cusp, role, side and movement") {
    const MarkNote working = note_of("working 16 MB/mes");
    CHECK(working.role == CuspRole::guiding);
    CHECK(working.side == Side::right);
    CHECK(working.where == "working side");
    CHECK(working.movement == "sliding to the right");
    CHECK(working.sentence ==
          "Mesial incline of the mesiobuccal cusp of 16, a guiding cusp, on the right, working side, "
          "sliding to the right: BULL names it.");
    CHECK(note_of("non-working 16 MP").movement == "sliding to the left");
    CHECK(note_of("protrusive 26 MB/dis").movement == "sliding forward");
}

TEST_CASE("the letter rules for the non-working side: both name supporting cusps, one of them by the slope") {
    // common practice, no source: mesial of the upper, distal of the lower supporting cusp, taught by some for this
    // side
    CHECK(note_of("non-working 16 MP/mes").named_by == Letters{"MUDL", "LUBL"});
    CHECK(note_of("non-working 16 MP/dis").named_by == Letters{"LUBL"});
    CHECK(note_of("non-working 46 MB/dis").named_by == Letters{"MUDL", "LUBL"});
    CHECK(note_of("non-working 46 MB/mes").named_by == Letters{"LUBL"});
    CHECK(note_of("non-working 16 MB/mes").named_by.empty());
    CHECK(note_of("non-working 16 MP").disputed.find("many would not touch") != std::string::npos);
}

TEST_CASE("a fossa or a ridge is named by no rule, and what meets it may be") {
    const MarkNote fossa = note_of("working 16 CF+");
    CHECK_FALSE(fossa.role);
    CHECK(fossa.named_by.empty());
    CHECK(fossa.sentence.find("heavy: no letter rule names a fossa or a ridge; the cusp of the other tooth") !=
          std::string::npos);
}

TEST_CASE("in crossbite the rule names the cusp that has the role, and the note says that it is turned round") {
    const Crossbite crossbite = read_crossbite("16", Numbering::iso);
    CHECK(note_of("working 16 MP", crossbite).named_by == Letters{"BULL"});
    CHECK(note_of("working 16 MB", crossbite).named_by.empty());
    CHECK(note_of("working 16 MP", crossbite).sentence.find("a guiding cusp (crossbite: turned round)") !=
          std::string::npos);
}

TEST_CASE("a centric mark says whether it carries the bite") {
    CHECK(note_of("centric 16 MP").sentence.find("it carries the centric bite") != std::string::npos);
    CHECK_FALSE(note_of("centric 16 MB").stop);
    CHECK(note_of("centric 16 MB", read_crossbite("right", Numbering::iso)).stop);
}

TEST_CASE("sentences start with a capital and never tell anybody to take anything away") {
    for (const char* text : {"working 16 MB/in", "non-working 46 DL", "protrusive 36 MB/mes", "centric 11 E"}) {
        const std::string sentence = note_of(text).sentence;
        CHECK(sentence.front() >= 'A');
        CHECK(sentence.front() <= 'Z');
        for (const char* word : {"emove", "rind", "educe", "rill"}) {
            CHECK(sentence.find(word) == std::string::npos);
        }
    }
}
