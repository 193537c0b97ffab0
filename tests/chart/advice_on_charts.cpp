// Charts as people typed them, and what a careful supervisor would say to each. Where a row rests on a fact, its source
// stands beside it; the rest is common practice, no source.
#include "charts.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;
using retap::compare::Verdict;
using test::applies;
using test::comfortable;
using test::evidence;
using test::ids;

namespace {

const std::string eccentric_none = "; working none; non-working none; protrusive none";

Situation baseline(const std::string& holds, const std::string& marks = "centric 16 MP CF 26 MP 36 MB") {
    Situation s;
    s.treated = read_teeth("26", Numbering::iso);
    s.before = test::look(holds, marks);
    s.before_has_sound = true;
    return s;
}

bool ends(const Situation& s) {
    return applies("done", s) || applies("comfortable-while-numb", s) || applies("baseline-complete", s);
}

} // namespace

TEST_CASE("36 MB CF after work on 36, typed without a sign: it is asked where they lie, and nothing is concluded") {
    const Situation s = comfortable("36", "36 MB CF 26 MP", "centric 36 MB CF 26 MP" + eccentric_none);
    CHECK(applies("place-not-said", s));
    CHECK_FALSE(applies("no-stop", s));
    CHECK_FALSE(applies("stop-beside", s));
    CHECK_FALSE(ends(s));
    CHECK(evidence("place-not-said", s).front() == "Not said: mesiobuccal cusp of 36 and central fossa of 36.");
    const Assessment a(s);
    CHECK(first_step(next_steps(a, Numbering::iso))->step == Step::ask_mark_place);
    CHECK(open_questions(a, Numbering::iso).front().id == "mark-place");
}

TEST_CASE("36 MB* CF~ said: the restoration has its stop, and the visit can end") {
    CHECK(ids(comfortable("36", "36 MB CF 26 MP", "centric 36 MB* CF~ 26 MP" + eccentric_none)) ==
          std::vector<std::string>{"done"});
}

TEST_CASE("36 MB~ CF~ said: the marks are beside it, so the restoration has no stop and the tooth keeps its own") {
    const Situation s = comfortable("36", "36 MB CF 26 MP", "centric 36 MB~ CF~ 26 MP" + eccentric_none);
    CHECK(ids(s) == std::vector<std::string>{"stop-beside", "done"});
    CHECK_FALSE(applies("no-stop", s));
}

TEST_CASE("36 MB* before the work is an old filling, not the new restoration: no stop after it is seen") {
    CHECK(applies("no-stop", comfortable("36", "36 MB* 26 MP", "centric 26 MP" + eccentric_none)));
}

TEST_CASE("26 MP before, 26 CF* after: the cusp mark that was lost is seen") {
    const Situation s = comfortable("26", "26 MP 36 MB", "centric 26 CF* 36 MB" + eccentric_none);
    CHECK(applies("mark-lost-on-treated", s));
    CHECK(evidence("mark-lost-on-treated", s).front() == "Marked before and not now: mesiopalatal cusp of 26.");
    CHECK_FALSE(ends(s));
}

TEST_CASE("26 MP before, 26 MP~ CF* after: the mark the tooth had is the mark it has") {
    CHECK(ids(comfortable("26", "26 MP 36 MB", "centric 26 MP~ CF* 36 MB" + eccentric_none)) ==
          std::vector<std::string>{"done"});
}

TEST_CASE("26 MP before, 26 MP~ DP~ after: a new mark beside the restoration is a change") {
    CHECK(applies("changed-otherwise", comfortable("26", "26 MP", "centric 26 MP~ DP~" + eccentric_none)));
}

TEST_CASE("open 16 15 26: three pairs tested and none holds is a flag, and the baseline is not complete") {
    const Situation s = baseline("open 16 15 26");
    CHECK(applies("few-holds", s));
    CHECK(applies("baseline-incomplete", s));
    CHECK_FALSE(ends(s));
    CHECK(evidence("baseline-incomplete", s).front() ==
          "Film was not tried before the work at 17, 14, 13, 12, 11, 21, 22, 23, 24, 25 and 27; what cannot be tested "
          "is noted as untestable.");
}

TEST_CASE("hold 17..14: one side alone is not a baseline") {
    CHECK(applies("baseline-incomplete", baseline("hold 17..14 13..11")));
    CHECK_FALSE(ends(baseline("hold 17..11")));
}

TEST_CASE("hold 26: one pair is not a baseline") {
    CHECK(applies("baseline-incomplete", baseline("hold 26")));
    CHECK_FALSE(ends(baseline("hold 26")));
}

TEST_CASE("hold 17..14 24..27, the front open, 25 missing: what cannot be tested is said, and the baseline is whole") {
    CHECK(ids(baseline("hold 17..14 24 26 27; open 13..23; missing 25")) ==
          std::vector<std::string>{"baseline-complete"});
}

TEST_CASE("hold 17 16 26 of fourteen: the flag of few holds stays once the work has begun, until it was settled") {
    Situation s = comfortable("26", "26 MP", "centric 26 MP*" + eccentric_none);
    s.before.holds = s.now.holds = read_holds("hold 17 16 26; open 15..25 27", Numbering::iso);
    CHECK(applies("few-holds", s));
    CHECK_FALSE(ends(s));
    s.warnings = {{"few-holds", "Dr Example", ""}};
    CHECK(applies("few-holds", s));
    CHECK(applies("warning-open", s));
    s.warnings = {{"few-holds", "Dr Example", "restore, and see again in a month"}};
    CHECK(ids(s) == std::vector<std::string>{"warning-noted", "done"});
}

TEST_CASE("another warning sign, a loose 26, holds back the work and the end until it was raised and decided") {
    Situation s = baseline(test::full_holds);
    CHECK(ids(s) == std::vector<std::string>{"baseline-complete"});
    s.warnings = {{"26 is loose"}};
    CHECK(ids(s) == std::vector<std::string>{"warning-open"});
    s.warnings = {{"26 is loose", "Dr Example", "leave it out of the taps"}};
    CHECK(ids(s) == std::vector<std::string>{"warning-noted", "baseline-complete"});
}

TEST_CASE(
    "working and non-working marks on the cusp, fossa and ridge of the restoration are listed and hold back done") {
    for (const char* marks : {"; working 26 MB+*", "; working 26 CF+*", "; non-working 26 DMR*",
                              "; non-working 26 DP+*", "; protrusive 26 MF*"}) {
        CAPTURE(marks);
        const Situation s = comfortable("26", "26 MP", std::string("centric 26 MP*") + marks + "; again");
        const auto advice = next_steps(Assessment(s), Numbering::iso);
        CHECK_FALSE(ends(s));
        const auto listed = std::ranges::find_if(advice, [](const Advice& one) {
            return one.rule->id.ends_with("working-marks") || one.rule->id == "protrusive-marks";
        });
        REQUIRE(listed != advice.end());
        CHECK(listed->marks.size() == 1);
        CHECK(listed->evidence.front().find("On the treated tooth: ") == 0);
    }
}

TEST_CASE("26 MB*: a mark on a guiding cusp is no stop, and it is asked whether the tooth is in crossbite") {
    // supporting cusps: upper palatal and lower buccal (drjrosen.com/cd127, Spear Education 2015)
    const Situation s = comfortable("26", "26 MB", "centric 26 MB*" + eccentric_none);
    CHECK(applies("guiding-only", s));
    CHECK(applies("crossbite-or-not", s));
    CHECK_FALSE(ends(s));
    Situation said = s;
    said.crossbite.teeth = read_teeth("26", Numbering::iso);
    CHECK(ids(said) == std::vector<std::string>{"done"});
    Situation none = s;
    none.crossbite.teeth.emplace();
    CHECK_FALSE(applies("crossbite-or-not", none));
    CHECK(applies("guiding-only", none));
}

TEST_CASE("numb is a caution whenever the patient is numb: sound unclear, different, a check moved, decided to wait") {
    Situation s = comfortable("26", "26 MP", "centric 26 MP*" + eccentric_none);
    s.numb = true;
    CHECK(ids(s) == std::vector<std::string>{"numb", "comfortable-while-numb"});
    for (const Feel feel : {Feel::not_asked, Feel::comfortable, Feel::high, Feel::other}) {
        s.feel = feel;
        for (const auto sound : {Verdict::alike, Verdict::unclear, Verdict::different}) {
            s.sound = sound;
            CHECK(applies("numb", s));
            CHECK_FALSE(applies("done", s));
            Situation moved = s;
            moved.now.holds = read_holds("hold 17..14 24..26; open 13..23 27", Numbering::iso);
            CHECK(applies("numb", moved));
            Situation waiting = s;
            waiting.decided = Action::wait;
            CHECK(applies("numb", waiting));
            CHECK(applies("waiting", waiting));
        }
    }
}

TEST_CASE("high while numb with film and marks as before: wait about a day, whatever the sound") {
    Situation s = comfortable("26", "26 MP", "centric 26 MP*" + eccentric_none);
    s.numb = true;
    s.feel = Feel::high;
    for (const auto sound :
         {std::optional<SoundSays>(), std::optional<SoundSays>(Verdict::alike),
          std::optional<SoundSays>(Verdict::unclear), std::optional<SoundSays>(Verdict::different)}) {
        s.sound = sound;
        CHECK(applies("high-while-numb", s));
    }
    s.now.holds = read_holds("hold 17..14 24..26; open 13..23 27", Numbering::iso);
    CHECK_FALSE(applies("high-while-numb", s));
    CHECK(applies("restoration-high", s));
}

TEST_CASE("decide wait and decide adjust change what is next") {
    Situation s = comfortable("26", "26 MP", "centric 26 MP*" + eccentric_none);
    s.decided = Action::wait;
    auto advice = next_steps(Assessment(s), Numbering::iso);
    CHECK(first_step(advice)->step == Step::recheck);
    CHECK_FALSE(ends(s));
    s.decided = Action::adjust;
    advice = next_steps(Assessment(s), Numbering::iso);
    CHECK(first_step(advice)->step == Step::new_look);
    CHECK_FALSE(ends(s));
    s.decided = Action::leave;
    CHECK(ids(s) == std::vector<std::string>{"done"});
}

TEST_CASE("working 16 MB/mes and MB/dis: BULL names the cusp, whatever its slope") {
    for (const char* place : {"MB/in", "MB/mes", "MB/dis", "MB"}) {
        CAPTURE(place);
        const Situation s = comfortable("26", "26 MP", std::string("centric 26 MP*; working 16 ") + place);
        const auto said = evidence("working-marks", s);
        REQUIRE_FALSE(said.empty());
        CHECK(said.front().find("BULL names it") != std::string::npos);
    }
}

TEST_CASE(
    "26 CF+ before and 26 MP+* CF~ after: a heavy new mark on the restoration stands out, whatever was heavy there") {
    const Situation s = comfortable("26", "26 CF+ 16 MP 17 MP 36 MB", "26 CF~ MP+* 16 MP 17 MP 36 MB");
    CHECK(applies("restoration-high", s));
    CHECK_FALSE(applies("changed-otherwise", s));
    CHECK_FALSE(ends(s));
}

TEST_CASE("what people feel is not said to be less than film and paper show: 14 um beside film of 8") {
    // Enkling 2010: 14.2 +/- 12.1 um; Harper and Setchell 2002: film of 8 um
    for (const Rule& rule : next_rules()) {
        CHECK(rule.why.find("less than film") == std::string_view::npos);
    }
    Situation s = comfortable("26", "26 MP", "centric 26 MP*" + eccentric_none);
    s.feel = Feel::high;
    const auto advice = next_steps(Assessment(s), Numbering::iso);
    const Advice* const high = test::advice_of(advice, "high-and-not-numb");
    REQUIRE(high != nullptr);
    CHECK(high->rule->why.find("as fine as film of 8") != std::string_view::npos);
}

TEST_CASE("26 MP~ with nothing on the restoration: the tooth keeps its stop, and nobody says that it may move") {
    const Situation s = comfortable("26", "26 MP", "centric 26 MP~" + eccentric_none);
    for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
        CHECK(advice.rule->why.find("may move") == std::string_view::npos);
    }
    CHECK(applies("stop-beside", s));
}

TEST_CASE(
    "no mark on 26 while the first contact leads: that they contradict each other is said, and what comes first") {
    Situation s = comfortable("26", "26 MP 36 MB", "centric 36 MB" + eccentric_none);
    s.now.holds = read_holds("hold 17..14 24 25 27; open 13..23 26", Numbering::iso);
    s.sound = SoundSays(Verdict::different, 30.0, FirstContact::earlier);
    CHECK(applies("no-stop", s));
    const Assessment a(s);
    const auto found = contradictions(a, Numbering::iso);
    REQUIRE(found.size() == 1);
    CHECK(found.front().id == "light-but-leads");
    CHECK(found.front().first.find("Look again first: fresh thin paper") == 0);
    CHECK(first_step(next_steps(a, Numbering::iso))->step == Step::look_at_marks);
}
