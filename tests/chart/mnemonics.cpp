#include "chart/mnemonics.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;

namespace {

Mark only(const char* text) {
    const MarkChart chart = read_marks(text, Numbering::iso);
    REQUIRE(chart.marks.size() == 1);
    return chart.marks.front();
}

bool named(const char* text) {
    const Mark mark = only(text);
    return points_at(mark.stage, mark);
}

} // namespace

TEST_CASE("BULL points at inner inclines of upper buccal and lower lingual cusps on the working side") {
    CHECK(named("working 16 MB/in"));
    CHECK(named("working 14 B/in"));
    CHECK(named("working 46 ML/in"));
    CHECK_FALSE(named("working 16 MP/in"));
    CHECK_FALSE(named("working 46 MB/in"));
    CHECK_FALSE(named("working 16 MB/out"));
    CHECK_FALSE(named("working 16 MB"));
    CHECK_FALSE(named("working 13 C/in"));
}

TEST_CASE("on the non-working side it is the inner inclines of the two supporting cusps") {
    CHECK(named("non-working 16 MP/in"));
    CHECK(named("non-working 46 DB/in"));
    CHECK_FALSE(named("non-working 16 MB/in"));
    CHECK_FALSE(named("non-working 46 ML/in"));
}

TEST_CASE("DUML points at distal inclines above and mesial inclines below, on back teeth") {
    CHECK(named("protrusive 16 MB/dis"));
    CHECK(named("protrusive 46 MB/mes"));
    CHECK_FALSE(named("protrusive 16 MB/mes"));
    CHECK_FALSE(named("protrusive 46 MB/dis"));
    CHECK_FALSE(named("protrusive 11 E/dis"));
}

TEST_CASE("no rule points at a centric mark") {
    CHECK_FALSE(named("centric 16 MB/in"));
}

TEST_CASE("the sentence names the side, the incline, the tooth and the rule") {
    CHECK(sentence_for(only("working 16 MB/in"), Numbering::iso) ==
          "On the working side, inner incline of the mesiobuccal cusp of 16: BULL names this incline (buccal of the "
          "upper, lingual of the lower).");
    CHECK(sentence_for(only("protrusive 46 MB/dis"), Numbering::universal).find("of 30: DUML does not name") !=
          std::string::npos);
}

TEST_CASE("every letter of a mnemonic has its meaning, in the order of the letters") {
    for (const Mnemonic& mnemonic : mnemonics()) {
        std::string letters;
        for (const auto& [letter, meaning] : mnemonic.meaning) {
            letters += letter;
            CHECK_FALSE(meaning.empty());
        }
        CHECK(letters == mnemonic.letters);
    }
    CHECK(mnemonic_note().find("supervising clinician") != std::string_view::npos);
}
