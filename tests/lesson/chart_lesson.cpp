#include "lesson/chart_lesson.hpp"

#include "chart/next_rules.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "lesson/chart_pictures.hpp"

#include <algorithm>
#include <doctest/doctest.h>
#include <set>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::lesson;

namespace {

constexpr chart::Numbering iso = chart::Numbering::iso;

struct Said {
    std::string holds;
    std::vector<std::string> marks;
    std::vector<std::size_t> choices;

    [[nodiscard]] ChartAnswers to(const ChartLesson& lesson) const {
        return chart_answers(lesson, holds, marks, choices);
    }
};

/// What somebody would type who sees everything and errs in nothing.
Said all_right(const ChartLesson& lesson) {
    Said said{.holds = chart::write_holds(*lesson.patient.situation.now.holds, iso), .marks = {}, .choices = {}};
    for (const ChartPicture& picture : lesson.pictures) {
        said.marks.push_back(chart::write_marks(picture.marks, iso));
    }
    for (const ChartQuestion& question : lesson.questions) {
        said.choices.push_back(question.right);
    }
    return said;
}

std::string next_of(int number) {
    const ChartPatient patient = chart_patient(number, false);
    const auto advice = chart::next_steps(chart::Assessment(patient.situation), iso);
    const chart::Advice* const first = chart::first_step(advice);
    return first == nullptr ? "" : std::string(first->rule->id);
}

} // namespace

TEST_CASE("Each patient asks for another conclusion, the one that a careful supervisor would draw") {
    // Read from the charts by hand: 1 the filling takes the paper first and keeps its neighbours apart; 2 the mark is
    // gone; 3 the crown is touched on an incline alone; 4 movements were marked and centric not again over them; 5
    // marks of movements where no centric mark is, on both sides; 6 high while numb; 7 film and marks as before beside
    // a different sound; 8 all as before.
    const std::vector<std::string> expected = {
        "restoration-high", "mark-lost-on-treated", "incline-only",      "mark-centric-again",
        "working-marks",    "high-while-numb",      "checks-contradict", "done",
    };
    for (int number = 1; number <= chart_patient_count; ++number) {
        CAPTURE(number);
        CHECK(next_of(number) == expected.at(static_cast<std::size_t>(number - 1)));
    }
    CHECK(std::set<std::string>(expected.begin(), expected.end()).size() == expected.size());
}

TEST_CASE("A learner who is right in everything passes, and one who is wrong in any one thing does not") {
    for (int number = 1; number <= chart_patient_count; ++number) {
        for (std::uint64_t seed = 1; seed <= 4; ++seed) {
            CAPTURE(number);
            CAPTURE(seed);
            const ChartLesson lesson = chart_lesson(number, seed, iso);
            const Said right = all_right(lesson);
            const ChartResult passed = check_charts(lesson, right.to(lesson));
            CHECK(passed.passed());
            CHECK(passed.right() == passed.items.size());
            for (std::size_t i = 0; i < lesson.questions.size(); ++i) {
                for (std::size_t other = 0; other < lesson.questions[i].choices.size(); ++other) {
                    Said wrong = right;
                    wrong.choices[i] = other;
                    CHECK(check_charts(lesson, wrong.to(lesson)).passed() == (other == right.choices[i]));
                }
            }
            for (std::size_t i = 0; i < lesson.pictures.size(); ++i) {
                Said none = right;
                none.marks[i] = "centric none";
                CHECK_FALSE(check_charts(lesson, none.to(lesson)).passed());
                Said more = right;
                more.marks[i] += " 21 E";
                CHECK_FALSE(check_charts(lesson, more.to(lesson)).passed());
            }
            Said untested = right;
            untested.holds = "hold 16/46";
            CHECK_FALSE(check_charts(lesson, untested.to(lesson)).passed());
        }
    }
}

TEST_CASE("A mark of another weight, another place on its cusp, or not said to be on the restoration is wrong") {
    const ChartLesson lesson = chart_lesson(3, 1, iso); // "26 MP/in*", or 16 when mirrored
    const std::string tooth = chart::name(lesson.patient.situation.treated.front(), iso);
    const Said right = all_right(lesson);
    REQUIRE(right.marks.front().find(tooth + " MP/in*") != std::string::npos);
    for (const std::string other : {" MP*", " MP/out*", " MP/in", " MP/in~", " MP/in+*", " DP/in*"}) {
        CAPTURE(other);
        Said wrong = right;
        wrong.marks.front().replace(wrong.marks.front().find(tooth + " MP/in*"), tooth.size() + 7, tooth + other);
        const ChartResult result = check_charts(lesson, wrong.to(lesson));
        CHECK_FALSE(result.passed());
        CHECK(result.right() < result.items.size());
    }
}

TEST_CASE("Stops, roles and sides are those that the rules have, turned round in crossbite") {
    const auto answer = [](const ChartLesson& lesson, const std::string& part, const std::string& place) {
        const auto found = std::ranges::find_if(lesson.questions, [&](const ChartQuestion& question) {
            return question.part == part && question.asked.find(place) != std::string::npos;
        });
        REQUIRE(found != lesson.questions.end());
        return found->choices.at(found->right);
    };
    ChartLesson crossed;
    for (std::uint64_t seed = 1; crossed.questions.empty(); ++seed) {
        ChartLesson lesson = chart_lesson(7, seed, iso);
        if (lesson.patient.situation.treated.front() == chart::Tooth::from_number(37, iso)) {
            crossed = std::move(lesson);
        }
    }
    // 37 stands in crossbite, so that its lingual cusp supports the bite; 46 does not.
    CHECK(answer(crossed, "role", "mesiolingual cusp of 37") == "A supporting cusp");
    CHECK(answer(crossed, "carries", "mesiolingual cusp of 37") == "Yes, it is a stop");
    CHECK(answer(crossed, "role", "mesiobuccal cusp of 46") == "A supporting cusp");
    CHECK(answer(crossed, "role", "central fossa of 37") == "No cusp");
    ChartLesson moved;
    for (std::uint64_t seed = 1; moved.questions.empty(); ++seed) {
        ChartLesson lesson = chart_lesson(5, seed, iso);
        if (lesson.patient.situation.treated.front() == chart::Tooth::from_number(27, iso)) {
            moved = std::move(lesson);
        }
    }
    // The jaw slid to the patient's right: 17 is on the working side, 27 on the other one. 47, slid to the left, is
    // too.
    CHECK(answer(moved, "movement", "mesiopalatal cusp of 27") == "The non-working side");
    CHECK(answer(moved, "movement", "distobuccal cusp of 17") == "The working side");
    CHECK(answer(moved, "movement", "distobuccal cusp of 47") == "The non-working side");
    CHECK(std::ranges::any_of(moved.pictures, [](const ChartPicture& picture) { return picture.name == "left"; }));
}

TEST_CASE("What is asked tells nothing of what is right: neither the JSON nor the words of the drawings") {
    const ChartLesson lesson = chart_lesson(1, 1, iso);
    const std::string json = report::json_text(chart_lesson_json(lesson, nullptr, nullptr));
    CHECK(json.find("\"because\"") == std::string::npos);
    CHECK(json.find("\"is\"") == std::string::npos);
    const std::string drawings = chart_drawings(lesson);
    CHECK(drawings.find(chart::write_holds(*lesson.patient.situation.now.holds, iso)) == std::string::npos);
    CHECK(drawings.find("opened-tooth") != std::string::npos);
}

TEST_CASE("Both sides of the mouth come, and stopping is always among the choices") {
    std::set<std::string> treated;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const ChartLesson lesson = chart_lesson(1, seed, iso);
        treated.insert(chart::list(lesson.patient.situation.treated, iso));
        const ChartQuestion& next = lesson.questions.back();
        CHECK(next.part == "next");
        CHECK(next.choices.size() == 4);
        CHECK(std::ranges::count_if(next.choices,
                                    [](const std::string& choice) { return choice.starts_with("Usually done"); }) == 1);
    }
    CHECK(treated == std::set<std::string>{"16", "26"});
}

TEST_CASE("Two observers of one patient agree as far as their charts do") {
    const ChartLesson lesson = chart_lesson(2, 1, iso);
    const ChartAnswers one = all_right(lesson).to(lesson);
    for (const ChartAgreement& part : agreement_between(one, one)) {
        CHECK(part.agreement.observed.value_or(1.0) == 1.0);
        CHECK(part.agreement.kappa.value_or(1.0) == doctest::Approx(1.0));
    }
    Said other = all_right(lesson);
    other.marks.front() = "centric none";
    const auto parts = agreement_between(one, other.to(lesson));
    CHECK(parts.front().agreement.observed == 1.0); // the film is the same
    CHECK(*parts.at(1).agreement.observed < 1.0);
    CHECK(agreement_sentence(parts.front()).starts_with("holds: the same in "));
}

TEST_CASE("Answers that are not what was asked for are refused in words") {
    const ChartLesson lesson = chart_lesson(1, 1, iso);
    Said said = all_right(lesson);
    said.choices.pop_back();
    CHECK_THROWS_AS((void)said.to(lesson), InputError);
    said = all_right(lesson);
    said.choices.front() = 3;
    CHECK_THROWS_AS((void)said.to(lesson), InputError);
    said = all_right(lesson);
    said.marks.front() = "working 16 MB";
    CHECK_THROWS_AS((void)said.to(lesson), InputError);
    said = all_right(lesson);
    said.marks.front() = "16 XX";
    CHECK_THROWS_AS((void)said.to(lesson), chart::NotationError);
}
