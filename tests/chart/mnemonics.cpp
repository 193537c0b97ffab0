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
    return points_at(mark);
}

} // namespace

// BULL: Spear Education 2015 and two school glossaries
TEST_CASE("BULL names upper buccal and lower lingual cusps on the working side, whatever slope is marked") {
    CHECK(named("working 16 MB/mes"));
    CHECK(named("working 16 MB/dis"));
    CHECK(named("working 46 DL/mes"));
    CHECK(named("working 16 MB/in"));
    CHECK(named("working 14 B/in"));
    CHECK(named("working 46 ML/in"));
    CHECK_FALSE(named("working 16 MP/in"));
    CHECK_FALSE(named("working 46 MB/in"));
    CHECK(named("working 16 MB/out"));
    CHECK(named("working 16 MB"));
    CHECK_FALSE(named("working 16 CF"));
    CHECK_FALSE(named("working 13 C/in"));
}

// common practice, no source; one school text names the lower buccal cusp (drjrosen.com/cd127)
TEST_CASE("on the non-working side it is the two supporting cusps") {
    CHECK(named("non-working 16 MP/in"));
    CHECK(named("non-working 46 DB/in"));
    CHECK_FALSE(named("non-working 16 MB/in"));
    CHECK_FALSE(named("non-working 46 ML/in"));
}

// from memory, unconfirmed
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

TEST_CASE("every letter of a mnemonic has its meaning, in the order of the letters") {
    for (const Mnemonic& mnemonic : mnemonics()) {
        std::string letters;
        for (const auto& [letter, meaning] : mnemonic.meaning) {
            letters += letter;
            CHECK_FALSE(meaning.empty());
        }
        CHECK(letters == mnemonic.letters);
        CHECK(mnemonic.disputed.size() > 20);
        CHECK(mnemonic.source.size() > 10);
    }
    CHECK(mnemonic_note().find("supervising clinician") != std::string_view::npos);
}
