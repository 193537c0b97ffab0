#include "chart/next_rules.hpp"
#include "charts.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <set>

using namespace retap::chart;
using retap::compare::Verdict;
using test::applies;
using test::ids;

namespace {

using test::look;

using test::full_holds;
constexpr const char* full_marks = "centric 17 MP 16 CF 26 MP 36 MB";
constexpr const char* full_marks_after = "centric 17 MP 16 CF* 26 MP 36 MB";

/// A visit on 16 with a full baseline and nothing after it yet.
Situation baseline() {
    Situation s;
    s.treated = read_teeth("16", Numbering::iso);
    s.before = look(full_holds, full_marks);
    s.before_has_sound = true;
    return s;
}

/// The same with a look after the work that is as before in every check; eccentric marked, nothing found.
Situation equal() {
    Situation s = baseline();
    s.restored = true;
    s.now = look(full_holds, full_marks_after);
    s.now.marks->stages = {Stage::centric, Stage::working, Stage::non_working, Stage::protrusive};
    s.now_has_sound = true;
    s.sound = Verdict::alike;
    return s;
}

Situation equal_and(Feel feel, std::optional<bool> numb) {
    Situation s = equal();
    s.feel = feel;
    s.numb = numb;
    return s;
}

Situation with_holds(Situation s, const char* holds) {
    s.now.holds = read_holds(holds, Numbering::iso);
    return s;
}

Situation with_marks(Situation s, const char* marks) {
    s.now.marks = read_marks(marks, Numbering::iso);
    return s;
}

Situation with_sound(Situation s, std::optional<Verdict> sound) {
    s.sound = sound;
    return s;
}

Situation with_baseline_holds(const char* holds) {
    Situation s = baseline();
    s.before.holds = read_holds(holds, Numbering::iso);
    return s;
}

Situation with_baseline_marks(Situation s, const char* marks) {
    s.before.marks = read_marks(marks, Numbering::iso);
    return s;
}

Situation empty_before(bool restored) {
    Situation s = restored ? equal() : baseline();
    s.before = {};
    s.before_has_sound = false;
    s.sound.reset();
    return s;
}

/// One row of the table with a situation in which it applies and near ones in which it must not.
struct Row {
    std::string id;
    std::vector<Situation> in;
    std::vector<Situation> out;
};

std::vector<Row> checks_of_rows() {
    const auto no_sound = [](Situation s) {
        s.before_has_sound = false;
        return s;
    };
    const auto no_marks_now = [](Situation s) {
        s.now.marks.reset();
        return s;
    };
    const auto decided = [](Situation s, Action action) {
        s.decided = action;
        return s;
    };
    const auto warned = [](Situation s, const char* raised_with, const char* what) {
        s.warnings = {{"loose", raised_with, what}};
        return s;
    };
    const auto crossing = [](Situation s, const char* teeth) {
        s.crossbite = read_crossbite(teeth, Numbering::iso);
        return s;
    };
    const auto seen_before = [](Situation s) {
        s.eccentric_before_this_look = true;
        return s;
    };
    const char* no_eccentric = full_marks_after;
    const Situation lost_high = with_holds(equal(), "hold 16..14 24..27; open 13..23 17");
    const Situation working = with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/in");
    const Situation one_baseline_pair_less = with_baseline_holds("hold 17..14 24..27; open 13..22");
    return {
        {"waiting", {decided(equal(), Action::wait)}, {equal(), decided(equal(), Action::leave)}},
        {"changed-since", {decided(equal(), Action::adjust)}, {equal(), decided(equal(), Action::wait)}},
        {"no-baseline", {empty_before(false)}, {baseline(), no_sound(baseline()), empty_before(true)}},
        {"baseline-incomplete",
         {no_sound(baseline()), one_baseline_pair_less},
         {baseline(), empty_before(false), no_sound(equal())}},
        {"baseline-complete",
         {baseline(), warned(baseline(), "Dr Example", "leave")},
         {no_sound(baseline()), with_baseline_holds("hold 17 16 26; open 15..25 27"), one_baseline_pair_less,
          with_baseline_holds("hold 17..14; slide 24..27; open 13..23"), equal(), warned(baseline(), "", ""),
          with_baseline_marks(baseline(), "centric 16 MB 26 MP")}},
        {"few-holds",
         {with_baseline_holds("hold 17 16 26; open 27"), with_baseline_holds("open 16 15 14"),
          with_baseline_holds("hold 17 16 26; open 27 25; missing 15 14 13..24")},
         {baseline(), with_baseline_holds("hold 17 16 26 27"), with_baseline_holds("hold 17 16 26")}},
        {"one-sided-holds",
         {with_baseline_holds("hold 17..14; slide 24..27")},
         {baseline(), with_baseline_holds("hold 17..14 24; slide 25..27"), with_baseline_holds("hold 17..14")}},
        {"warning-open",
         {warned(baseline(), "", ""), warned(equal(), "Dr Example", ""), warned(equal(), "", "leave")},
         {equal(), warned(equal(), "Dr Example", "leave")}},
        {"warning-noted", {warned(equal(), "Dr Example", "leave")}, {equal(), warned(equal(), "Dr Example", "")}},
        {"baseline-lost", {empty_before(true), no_sound(equal())}, {equal(), empty_before(false)}},
        {"place-not-said",
         {with_marks(equal(), "centric 17 MP 16 CF 26 MP 36 MB"),
          with_marks(equal(), "centric 16 CF*; working 16 MB/in")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF~ 26 MP 36 MB"), baseline(),
          with_marks(equal(), "centric 16 CF*; working 16 CF")}},
        {"crossbite-or-not",
         {with_baseline_marks(baseline(), "centric 16 MB 26 MP"), with_marks(equal(), "centric 16 CF* 36 ML 26 MP")},
         {equal(), crossing(with_marks(equal(), "centric 16 CF* 36 ML 26 MP"), "none"),
          with_marks(equal(), "centric 16 CF* MB* MP* 26 MP"), with_marks(equal(), "centric 16 CF* MB/in* 26 MP")}},
        {"checks-first", {no_marks_now(equal()), with_marks(equal(), "working none")}, {equal(), baseline()}},
        {"sound-not-compared", {with_sound(equal(), std::nullopt)}, {equal(), no_sound(baseline())}},
        {"checks-contradict",
         {with_sound(equal(), Verdict::different), with_marks(equal(), "centric 17 MP 26 MP 36 MB")},
         {equal(), with_sound(equal(), Verdict::unclear)}},
        {"holds-untested",
         {with_holds(equal(), "hold 17..14 24..26; open 13..23"),
          with_holds(equal(), "hold 17..14 24..26; open 13..23; missing 27")},
         {equal()}},
        {"other-side-changed", {with_holds(equal(), "hold 17..14 24..26; open 13..23 27")}, {equal(), lost_high}},
        {"restoration-high",
         {lost_high, with_marks(equal(), "centric 17 MP 16 CF+* 26 MP 36 MB")},
         {equal(), with_holds(equal(), "hold 17 15 14 24..27; open 13..23 16"), with_sound(equal(), Verdict::different),
          with_marks(equal(), "centric 17 MP+ 16 CF* 26 MP 36 MB"),
          with_marks(equal(), "centric 17 MP 16 CF+~ 26 MP 36 MB")}},
        {"mark-lost-on-treated",
         {with_marks(equal(), "centric 17 MP 16 DMR* 26 MP 36 MB")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF~ DMR* 26 MP 36 MB")}},
        {"no-stop",
         {with_marks(equal(), "centric 17 MP 26 MP 36 MB"), with_marks(empty_before(true), "centric 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB/in* 26 MP 36 MB"),
          with_marks(equal(), "centric 17 MP 16 CF 26 MP 36 MB"),
          with_marks(equal(), "centric 17 MP 16 CF~ 26 MP 36 MB"),
          with_marks(with_baseline_marks(equal(), "centric 26 MP"), "centric 26 MP")}},
        {"stop-beside",
         {with_marks(equal(), "centric 17 MP 16 CF~ 26 MP 36 MB")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB/in~ 26 MP 36 MB")}},
        {"no-stop-as-before",
         {with_marks(with_baseline_marks(equal(), "centric 26 MP"), "centric 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 26 MP 36 MB")}},
        {"incline-only",
         {with_marks(equal(), "centric 17 MP 16 MB/in* 26 MP 36 MB")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB/in* CF* 26 MP 36 MB")}},
        {"guiding-only",
         {with_marks(equal(), "centric 17 MP 16 MB* 26 MP 36 MB")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB* CF* 26 MP 36 MB"),
          crossing(with_marks(equal(), "centric 17 MP 16 MB* 26 MP 36 MB"), "right")}},
        {"light-on-restoration",
         {with_holds(equal(), "hold 17 15 14 24..27; slide 16; open 13..23")},
         {equal(), with_holds(equal(), "hold 15 14 24..27; slide 16; open 13..23 17")}},
        {"changed-otherwise",
         {with_holds(equal(), "hold 17..14 24..27 11; open 13 12 21..23"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP")},
         {equal(), with_holds(equal(), "hold 16..14 24..27 11; open 17 13 12 21..23")}},
        {"only-sound-differs",
         {with_sound(equal(), Verdict::different)},
         {equal(), with_sound(equal(), Verdict::unclear), with_sound(equal(), std::nullopt),
          with_sound(lost_high, Verdict::different)}},
        {"only-sound-alike",
         {lost_high},
         {equal(), with_sound(lost_high, Verdict::different), with_sound(equal(), Verdict::different)}},
        {"sound-unclear", {with_sound(equal(), Verdict::unclear)}, {equal(), with_sound(equal(), std::nullopt)}},
        {"ask-the-patient",
         {equal(), with_sound(equal(), Verdict::different)},
         {no_marks_now(equal()), equal_and(Feel::comfortable, true), baseline()}},
        {"numb-or-not",
         {equal_and(Feel::high, std::nullopt)},
         {equal_and(Feel::high, true), equal_and(Feel::comfortable, false), equal()}},
        {"numb",
         {equal_and(Feel::high, true), equal_and(Feel::not_asked, true), with_sound(equal_and(Feel::other, true), {})},
         {equal_and(Feel::high, false), equal()}},
        {"high-while-numb",
         {equal_and(Feel::high, true), with_sound(equal_and(Feel::high, true), Verdict::different)},
         {equal_and(Feel::high, false), equal_and(Feel::comfortable, true),
          decided(equal_and(Feel::high, true), Action::wait),
          with_holds(equal_and(Feel::high, true), "hold 16..14 24..27; open 13..23 17")}},
        {"high-and-not-numb",
         {equal_and(Feel::high, false), with_sound(equal_and(Feel::high, false), Verdict::different)},
         {equal_and(Feel::high, true), equal_and(Feel::high, std::nullopt), equal_and(Feel::comfortable, false)}},
        {"feels-different", {equal_and(Feel::other, true)}, {equal_and(Feel::high, true), equal()}},
        {"eccentric-next",
         {with_marks(equal(), no_eccentric)},
         {equal(), with_holds(with_marks(equal(), no_eccentric), "hold 16..14 24..27; open 13..23 17")}},
        {"eccentric-too-early",
         {lost_high},
         {equal(), with_holds(with_marks(equal(), no_eccentric), "hold 16..14 24..27; open 13..23 17")}},
        {"both-stages",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 26 DP")}},
        {"mark-centric-again",
         {working},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/in; again")}},
        {"eccentric-first-time", {working}, {equal(), seen_before(working)}},
        {"working-marks",
         {working, with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 DMR")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 13 C"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP; working 17 MB/in")}},
        {"non-working-marks",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 47 DB/in")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 47 DB/in")}},
        {"protrusive-marks",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; protrusive 17 MB/dis")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/dis"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; protrusive 11 E/in 13 C/dis")}},
        {"eccentric-as-before",
         {with_baseline_marks(working, "centric 17 MP 16 CF 26 MP 36 MB; working 17 MB/in")},
         {working, equal(), with_baseline_marks(working, "centric 17 MP 16 CF 26 MP 36 MB; working 17 MB/in-")}},
        {"comfortable-while-numb",
         {equal_and(Feel::comfortable, true)},
         {equal_and(Feel::comfortable, false), with_sound(equal_and(Feel::comfortable, true), Verdict::unclear),
          with_marks(equal_and(Feel::comfortable, true), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB; again")}},
        {"done",
         {equal_and(Feel::comfortable, false)},
         {equal_and(Feel::comfortable, true), equal_and(Feel::comfortable, std::nullopt), equal_and(Feel::high, false),
          with_sound(equal_and(Feel::comfortable, false), Verdict::different),
          decided(equal_and(Feel::comfortable, false), Action::wait),
          with_marks(equal_and(Feel::comfortable, false), no_eccentric),
          with_holds(equal_and(Feel::comfortable, false), "hold 16..14 24..27; open 13..23 17")}},
    };
}

} // namespace

TEST_CASE("each rule applies where its row says, and not in the situations next to it") {
    for (const Row& row : checks_of_rows()) {
        CAPTURE(row.id);
        for (std::size_t i = 0; i < row.in.size(); ++i) {
            CAPTURE(i);
            CHECK(applies(row.id, row.in[i]));
        }
        for (std::size_t i = 0; i < row.out.size(); ++i) {
            CAPTURE(i);
            CHECK_FALSE(applies(row.id, row.out[i]));
        }
    }
}

TEST_CASE("every row of the table has such a test, and ids are unique") {
    std::set<std::string> tested;
    for (const Row& row : checks_of_rows()) {
        tested.insert(row.id);
    }
    std::set<std::string> in_table;
    for (const Rule& rule : next_rules()) {
        CHECK(in_table.insert(std::string(rule.id)).second);
    }
    CHECK(tested == in_table);
}

TEST_CASE("every row can be printed and read: when, what, why, and what it defers to") {
    for (const Rule& rule : next_rules()) {
        CAPTURE(std::string(rule.id));
        CHECK(rule.source.size() > 10);
        for (const auto text : {rule.when, rule.suggestion, rule.why}) {
            CHECK(text.size() > 10);
            CHECK(text.back() == '.');
        }
        CHECK_FALSE(rule.defers_to.empty());
        const bool judges = rule.applies != nullptr;
        REQUIRE(judges);
    }
}

TEST_CASE("no rule tells anybody to take tooth away, and a change to the restoration is put as a question") {
    for (const Rule& rule : next_rules()) {
        const std::string suggestion(rule.suggestion);
        CAPTURE(suggestion);
        for (const char* word : {"emove", "rind", "educe", "rill", "rim ", "diagnos"}) {
            CHECK(suggestion.find(word) == std::string::npos);
        }
        if (suggestion.find("adjust") != std::string::npos) {
            CHECK(suggestion.find("Consider, with your supervisor,") == 0);
        }
    }
}

TEST_CASE("advice comes in the order of the table, with evidence in the clinic's numbering") {
    Situation s = with_sound(with_holds(equal(), "hold 17..14 24 25; open 13..23 26 27"), Verdict::different);
    CHECK(ids(s) ==
          std::vector<std::string>{"other-side-changed", "restoration-high", "ask-the-patient", "eccentric-too-early"});
    const auto steps = next_steps(Assessment(s), Numbering::universal);
    CHECK(steps.at(1).evidence ==
          std::vector<std::string>{"Lost elsewhere: the hold at 14/19 and 15/18.", "The sound is different as well."});
}

TEST_CASE("all equal and comfortable ends in exactly one step") {
    CHECK(ids(equal_and(Feel::comfortable, false)) == std::vector<std::string>{"done"});
    CHECK(ids(equal_and(Feel::high, true)) == std::vector<std::string>{"numb", "high-while-numb"});
}

TEST_CASE("eccentric-only marks are listed for the treated tooth and for the others, with what schools dispute") {
    const Situation s = with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/in 26 MP/out 16 MB/in*");
    const auto said = test::evidence("working-marks", s);
    REQUIRE(said.size() == 5);
    CHECK(said[0].find("On the treated tooth: Inner incline of the mesiobuccal cusp of 16") == 0);
    CHECK(said[1].find("On another tooth: Inner incline of the mesiobuccal cusp of 17") == 0);
    CHECK(said[2].find("BULL does not name it; the place it meets on the other tooth may be named") !=
          std::string::npos);
    CHECK(said[3].find("Disputed about BULL: ") == 0);
    CHECK(said[4].find("Schools differ") == 0);
}

TEST_CASE("the step that comes first can be read by a program, and depends on what is missing") {
    const auto first = [](const Situation& s) {
        const auto advice = next_steps(Assessment(s), Numbering::iso);
        const Advice* const one = first_step(advice);
        return one == nullptr ? Step::none : one->step;
    };
    Situation s = empty_before(false);
    CHECK(first(s) == Step::chart_holds);
    s.before.holds = read_holds(full_holds, Numbering::iso);
    CHECK(first(s) == Step::chart_centric);
    s.before.holds = read_holds("hold 16", Numbering::iso);
    CHECK(first(s) == Step::test_pairs);
    s.before = look(full_holds, full_marks);
    CHECK(first(s) == Step::record);
    CHECK(first(baseline()) == Step::start_work);
    CHECK(first(equal()) == Step::ask_patient);
    CHECK(first(equal_and(Feel::comfortable, std::nullopt)) == Step::ask_numb);
    CHECK(first(equal_and(Feel::high, true)) == Step::wait);
    CHECK(first(equal_and(Feel::comfortable, false)) == Step::sign);
    CHECK(first(with_marks(equal_and(Feel::comfortable, false), full_marks_after)) == Step::mark_eccentric);
}

TEST_CASE("no situation crashes a rule: every combination of looks, sound, numbness and feel") {
    const std::vector<LookCharts> charts = {{},
                                            {read_holds("hold 16 26", Numbering::iso), std::nullopt},
                                            {std::nullopt, read_marks("working 16 MB/in", Numbering::iso)},
                                            look(full_holds, full_marks_after)};
    int situations = 0;
    for (const LookCharts& before : charts) {
        for (const LookCharts& now : charts) {
            for (const bool restored : {false, true}) {
                for (const auto sound :
                     {std::optional<Verdict>(), std::optional(Verdict::alike), std::optional(Verdict::different)}) {
                    for (const auto numb : {std::optional<bool>(), std::optional(true), std::optional(false)}) {
                        for (const Feel feel : {Feel::not_asked, Feel::comfortable, Feel::high, Feel::other}) {
                            Situation s;
                            s.treated = read_teeth("16", Numbering::iso);
                            s.before = before;
                            s.restored = restored;
                            s.now = restored ? now : LookCharts{};
                            s.before_has_sound = s.now_has_sound = sound.has_value();
                            s.sound = sound;
                            s.numb = numb;
                            s.feel = feel;
                            CHECK_FALSE(next_steps(Assessment(s), Numbering::iso).empty());
                            for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
                                REQUIRE(advice.rule != nullptr);
                            }
                            ++situations;
                        }
                    }
                }
            }
        }
    }
    CHECK(situations == 4 * 4 * 2 * 3 * 3 * 4);
}
