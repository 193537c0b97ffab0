#include "chart/next_rules.hpp"
#include "chart/notation.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <set>

using namespace retap::chart;
using retap::compare::Verdict;

namespace {

LookCharts look(const char* holds, const char* marks) {
    return {read_holds(holds, Numbering::iso), read_marks(marks, Numbering::iso)};
}

constexpr const char* full_holds = "hold 17..14 24..27; open 11";
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

std::vector<std::string> ids(const Situation& s) {
    std::vector<std::string> found;
    for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
        found.emplace_back(advice.rule->id);
    }
    return found;
}

bool applies(const std::string& id, const Situation& s) {
    const auto found = ids(s);
    return std::find(found.begin(), found.end(), id) != found.end();
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
    const char* no_eccentric = full_marks_after;
    return {
        {"no-baseline", {empty_before(false)}, {baseline(), no_sound(baseline()), empty_before(true)}},
        {"baseline-incomplete", {no_sound(baseline())}, {baseline(), empty_before(false), no_sound(equal())}},
        {"baseline-complete",
         {baseline()},
         {no_sound(baseline()), with_baseline_holds("hold 17 16 26; open 27"),
          with_baseline_holds("hold 17..14; slide 24..27"), equal()}},
        {"few-holds",
         {with_baseline_holds("hold 17 16 26; open 27")},
         {baseline(), with_baseline_holds("hold 17 16 26 27"), with_baseline_holds("hold 17 16 26")}},
        {"one-sided-holds",
         {with_baseline_holds("hold 17..14; slide 24..27")},
         {baseline(), with_baseline_holds("hold 17..14 24; slide 25..27"), with_baseline_holds("hold 17..14")}},
        {"baseline-lost", {empty_before(true), no_sound(equal())}, {equal(), empty_before(false)}},
        {"checks-first", {no_marks_now(equal()), with_marks(equal(), "working none")}, {equal(), baseline()}},
        {"holds-untested", {with_holds(equal(), "hold 17..14 24..26; open 11")}, {equal()}},
        {"other-side-changed",
         {with_holds(equal(), "hold 17..14 24..26; open 11 27")},
         {equal(), with_holds(equal(), "hold 16..14 24..27; open 11 17")}},
        {"restoration-high",
         {with_holds(equal(), "hold 16..14 24..27; open 11 17"),
          with_marks(equal(), "centric 17 MP 16 CF+* 26 MP 36 MB")},
         {equal(), with_holds(equal(), "hold 17 15 14 24..27; open 11 16"), with_sound(equal(), Verdict::different),
          with_marks(equal(), "centric 17 MP+ 16 CF* 26 MP 36 MB")}},
        {"no-stop",
         {with_marks(equal(), "centric 17 MP 26 MP 36 MB"), with_marks(empty_before(true), "centric 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB/in* 26 MP 36 MB"),
          with_marks(with_baseline_marks(equal(), "centric 26 MP"), "centric 26 MP")}},
        {"no-stop-as-before",
         {with_marks(with_baseline_marks(equal(), "centric 26 MP"), "centric 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 26 MP 36 MB")}},
        {"incline-only",
         {with_marks(equal(), "centric 17 MP 16 MB/in* 26 MP 36 MB")},
         {equal(), with_marks(equal(), "centric 17 MP 16 MB/in* CF* 26 MP 36 MB")}},
        {"light-on-restoration",
         {with_holds(equal(), "hold 17 15 14 24..27; slide 16; open 11")},
         {equal(), with_holds(equal(), "hold 15 14 24..27; slide 16; open 11 17")}},
        {"changed-otherwise",
         {with_holds(equal(), "hold 17..14 24..27 11"), with_marks(equal(), "centric 17 MP 16 CF* 26 MP")},
         {equal(), with_holds(equal(), "hold 16..14 24..27 11; open 17")}},
        {"only-sound-differs",
         {with_sound(equal(), Verdict::different)},
         {equal(), with_sound(equal(), Verdict::unclear), with_sound(equal(), std::nullopt),
          with_sound(with_holds(equal(), "hold 16..14 24..27; open 11 17"), Verdict::different)}},
        {"only-sound-alike",
         {with_holds(equal(), "hold 16..14 24..27; open 11 17")},
         {equal(), with_sound(with_holds(equal(), "hold 16..14 24..27; open 11 17"), Verdict::different),
          with_sound(equal(), Verdict::different)}},
        {"sound-unclear", {with_sound(equal(), Verdict::unclear)}, {equal(), with_sound(equal(), std::nullopt)}},
        {"ask-the-patient",
         {equal(), with_sound(equal(), Verdict::different)},
         {no_marks_now(equal()), equal_and(Feel::comfortable, true), baseline()}},
        {"numb-or-not",
         {equal_and(Feel::high, std::nullopt)},
         {equal_and(Feel::high, true), equal_and(Feel::comfortable, false), equal()}},
        {"high-while-numb",
         {equal_and(Feel::high, true)},
         {equal_and(Feel::high, false), equal_and(Feel::comfortable, true),
          with_sound(equal_and(Feel::high, true), Verdict::different),
          with_holds(equal_and(Feel::high, true), "hold 16..14 24..27; open 11 17")}},
        {"high-and-not-numb",
         {equal_and(Feel::high, false), with_sound(equal_and(Feel::high, false), Verdict::different)},
         {equal_and(Feel::high, true), equal_and(Feel::high, std::nullopt), equal_and(Feel::comfortable, false)}},
        {"feels-different", {equal_and(Feel::other, true)}, {equal_and(Feel::high, true), equal()}},
        {"eccentric-next",
         {with_marks(equal(), no_eccentric)},
         {equal(), with_holds(with_marks(equal(), no_eccentric), "hold 16..14 24..27; open 11 17")}},
        {"eccentric-too-early",
         {with_holds(equal(), "hold 16..14 24..27; open 11 17")},
         {equal(), with_holds(with_marks(equal(), no_eccentric), "hold 16..14 24..27; open 11 17")}},
        {"both-stages",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 26 MP")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 26 DP")}},
        {"working-inclines",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/in")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP; working 17 MB/in")}},
        {"non-working-inclines",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; non-working 47 DB/in")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 47 DB/in")}},
        {"protrusive-inclines",
         {with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; protrusive 17 MB/dis")},
         {equal(), with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/dis"),
          with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; protrusive 11 E/in 13 C/dis")}},
        {"comfortable-while-numb",
         {equal_and(Feel::comfortable, true)},
         {equal_and(Feel::comfortable, false), with_sound(equal_and(Feel::comfortable, true), Verdict::unclear)}},
        {"done",
         {equal_and(Feel::comfortable, false)},
         {equal_and(Feel::comfortable, true), equal_and(Feel::comfortable, std::nullopt), equal_and(Feel::high, false),
          with_sound(equal_and(Feel::comfortable, false), Verdict::different),
          with_holds(equal_and(Feel::comfortable, false), "hold 16..14 24..27; open 11 17")}},
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
    Situation s = with_sound(with_holds(equal(), "hold 17..14 24 25; open 11 26 27"), Verdict::different);
    CHECK(ids(s) ==
          std::vector<std::string>{"other-side-changed", "restoration-high", "ask-the-patient", "eccentric-too-early"});
    const auto steps = next_steps(Assessment(s), Numbering::universal);
    CHECK(steps.at(1).evidence ==
          std::vector<std::string>{"Lost elsewhere: the hold at 14/19 and 15/18.", "The sound is different as well."});
}

TEST_CASE("all equal and comfortable ends in exactly one step") {
    CHECK(ids(equal_and(Feel::comfortable, false)) == std::vector<std::string>{"done"});
    CHECK(ids(equal_and(Feel::high, true)) == std::vector<std::string>{"high-while-numb"});
}

TEST_CASE("eccentric-only marks are named by side, incline and rule, with the note that schools differ") {
    const Situation s = with_marks(equal(), "centric 17 MP 16 CF* 26 MP 36 MB; working 17 MB/in 26 MB/out");
    for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
        if (advice.rule->id == "working-inclines") {
            REQUIRE(advice.evidence.size() == 3);
            CHECK(advice.evidence[0].find("inner incline of the mesiobuccal cusp of 17: BULL names") !=
                  std::string::npos);
            CHECK(advice.evidence[1].find("BULL does not name") != std::string::npos);
            CHECK(advice.evidence[2].find("Schools differ") == 0);
        }
    }
    CHECK(applies("working-inclines", s));
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
                            Situation s{read_teeth("16", Numbering::iso),
                                        before,
                                        sound.has_value(),
                                        restored,
                                        now,
                                        sound.has_value(),
                                        sound,
                                        numb,
                                        feel};
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
