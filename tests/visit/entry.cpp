#include "visit/entry.hpp"

#include "error.hpp"
#include "invented_visit.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;

namespace {

std::vector<Body> one_of_each() {
    Opened opened = test::filling_on_16();
    opened.follows = "0123456789abcdef0123456789abcdef";
    opened.numbering = chart::Numbering::universal;
    Compared compared;
    compared.verdict = compare::Verdict::different;
    compared.likeness = {31.4159, 0.1, 1.0 / 3.0};
    compared.sentence = "The bite sounds different.";
    compared.before_takes = {3, 4};
    compared.now_takes = {9};
    compared.program = "Retap 0.1.0";
    compared.first_contact = chart::FirstContact::earlier;
    return {opened,
            HoldsCharted{chart::read_holds("hold 16 25/36; open 27; untestable 14", chart::Numbering::iso)},
            MarksCharted{chart::read_marks("16 CF+* MB/in- MP~; working none; again", chart::Numbering::iso)},
            TakeKept{"before.wav", "Retap 0.1.0", "aa", "bb", "cc"},
            FeelNoted{true, chart::Feel::high, "it feels\nhigh"},
            compared,
            Decided{Action::wait, "recheck tomorrow"},
            Withdrawn{},
            Signed{"supervising dentist", "fine"},
            CrossbiteSaid{chart::read_crossbite("16 17", chart::Numbering::iso)},
            WarningNoted{{"loose", "Dr Example", "leave it\nout"}}};
}

} // namespace

TEST_CASE("every kind of entry is written and read back without loss") {
    const auto bodies = one_of_each();
    REQUIRE(bodies.size() == std::variant_size_v<Body>);
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        REQUIRE(bodies[i].index() == i);
        const std::string written = fields_of(bodies[i]).text();
        CAPTURE(written);
        const Body read = body_from(kind_of(bodies[i]), Fields::read(written));
        CHECK(read.index() == i);
        CHECK(fields_of(read).text() == written);
    }
    const auto compared = std::get<Compared>(body_from("comparison", fields_of(bodies[5])));
    CHECK(compared.likeness.high == 1.0 / 3.0); // to the last bit
}

TEST_CASE("a numbness that was not asked stays unasked") {
    const auto noted = std::get<FeelNoted>(body_from("feel", fields_of(FeelNoted{})));
    CHECK_FALSE(noted.numb);
    CHECK(noted.feel == chart::Feel::not_asked);
}

TEST_CASE("damaged entries are store trouble, not a crash and not a wrong reading") {
    const auto read = [](const char* kind, const char* text) { (void)body_from(kind, Fields::read(text)); };
    CHECK_THROWS_AS(read("holds", "holds=hold 99\n"), StoreError);
    CHECK_THROWS_AS(read("holds", "marks=16 CF\n"), StoreError);
    CHECK_THROWS_AS(read("feel", "feel=great\nwords=\n"), StoreError);
    CHECK_THROWS_AS(read("crossbite", "teeth=99\n"), StoreError);
    CHECK_THROWS_AS(read("warning", "about=loose\n"), StoreError);
    CHECK_THROWS_AS(read("unheard-of", ""), StoreError);
    CHECK_THROWS_AS(
        read("comparison", "verdict=alike\nscore=x\nlow=1\nhigh=2\nsentence=\nbefore_takes=\nnow_takes=\nprogram=\n"),
        StoreError);
}

TEST_CASE("looks have names that can be typed, and no other text is one") {
    for (const char* text : {"before", "after", "after2", "after10", "recheck", "recheck3"}) {
        CHECK(visit::text(look_from(text).value()) == text);
    }
    CHECK(look_from("after1") == look_from("after"));
    for (const char* text :
         {"", "before2", "after0", "after02", "after-1", "after 2", "afterwards", "after100", "middle"}) {
        CAPTURE(text);
        CHECK_FALSE(look_from(text));
    }
}
