#include "lesson/chart_lesson.hpp"

#include "bite/random.hpp"
#include "chart/next_rules.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "lesson/chart_questions.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <array>
#include <cctype>

namespace retap::lesson {

namespace {

using chart::Mark;
using chart::MarkChart;
using chart::Stage;

struct Movement {
    const char* name;
    const char* title;
};
constexpr std::array<Movement, 4> movements = {{
    {"centric", "Film, and paper while the patient taps straight"},
    {"right", "Paper of another colour, the jaw sliding to the patient's right"},
    {"left", "Paper of another colour, the jaw sliding to the patient's left"},
    {"forward", "Paper of another colour, the jaw sliding forward"},
}};

std::string_view movement_of(const Mark& mark) {
    switch (mark.stage) {
    case Stage::working:
        return mark.tooth.side() == chart::Side::right ? "right" : "left";
    case Stage::non_working:
        return mark.tooth.side() == chart::Side::right ? "left" : "right";
    case Stage::protrusive:
        return "forward";
    case Stage::centric:
        break;
    }
    return "centric";
}

std::vector<ChartPicture> pictures_of(const MarkChart& marks) {
    std::vector<ChartPicture> pictures;
    for (const Movement& movement : movements) {
        ChartPicture picture{.name = movement.name, .title = movement.title, .marks = {}};
        picture.marks.stages = {Stage::centric};
        for (Mark mark : marks.marks) {
            if (movement_of(mark) == movement.name) {
                mark.stage = Stage::centric;
                picture.marks.marks.push_back(mark);
            }
        }
        if (picture.name == "centric" || !picture.marks.marks.empty()) {
            pictures.push_back(std::move(picture));
        }
    }
    return pictures;
}

std::string words_of(const ChartPatient& patient, chart::Numbering numbering) {
    const chart::Situation& s = patient.situation;
    std::string said = "Tooth " + chart::list(s.treated, numbering) + " has " + patient.work + " since an hour ago. ";
    said += s.crossbite.said() ? "Teeth " + chart::list(*s.crossbite.teeth, numbering) + " stand in crossbite. "
                               : std::string("No teeth stand in crossbite. ");
    said += "Film and marks before the work are known. The sound of before and after is " +
            std::string(compare::word(s.sound->verdict)) + ". ";
    said +=
        s.now.marks->has_eccentric()
            ? (s.now.marks->centric_again ? "The movements were marked, and centric was marked again over them. "
                                          : "The movements were marked, and centric was not marked again over them. ")
            : std::string("The movements were not marked. ");
    return said + "The patient is " + (*s.numb ? "still numb" : "not numb any more") + " and says the bite is " +
           std::string(chart::word(s.feel)) + ".";
}

template <class Key>
const Mark* mark_like(const MarkChart& chart, const Key& mark) {
    const auto found = std::ranges::find_if(
        chart.marks, [&](const Mark& one) { return one.tooth == mark.tooth && one.place == mark.place; });
    return found == chart.marks.end() ? nullptr : &*found;
}

std::string look_of_mark(const Mark* mark) {
    if (mark == nullptr) {
        return "no mark";
    }
    std::string said(chart::word(mark->weight));
    return mark->where == chart::Where::not_said ? said : said + ", " + std::string(chart::word(mark->where));
}

void check_holds(const chart::HoldChart& drawn, const chart::HoldChart& said, chart::Numbering numbering,
                 std::vector<ChartItem>& items) {
    const auto told = [](const chart::HoldChart& chart, const chart::TeethPair& pair) {
        const auto film = chart::result_of(chart, pair);
        return film ? std::string(chart::word(*film)) : std::string("not charted");
    };
    chart::HoldChart all = drawn;
    all.insert(said.begin(), said.end());
    for (const auto& [pair, film] : all) {
        const std::string is = told(drawn, pair);
        const std::string was_said = told(said, pair);
        items.push_back({.part = "holds",
                         .asked = "film at " + chart::name(pair, numbering),
                         .said = was_said,
                         .is = is,
                         .right = is == was_said});
    }
}

void check_marks(const ChartPicture& picture, const MarkChart& said, chart::Numbering numbering,
                 std::vector<ChartItem>& items) {
    const auto item = [&](const Mark& at, const Mark* is, const Mark* was_said) {
        items.push_back({.part = "marks",
                         .asked = chart::plain_name(at, numbering) + " (" + picture.name + ")",
                         .said = look_of_mark(was_said),
                         .is = look_of_mark(is),
                         .right = look_of_mark(is) == look_of_mark(was_said)});
    };
    for (const Mark& mark : picture.marks.marks) {
        item(mark, &mark, mark_like(said, mark));
    }
    for (const Mark& mark : said.marks) {
        if (mark_like(picture.marks, mark) == nullptr) {
            item(mark, nullptr, &mark);
        }
    }
}

std::vector<ChartAgreement> agreement_on(const chart::HoldChart& first_holds, const MarkChart& first_marks,
                                         const chart::HoldChart& second_holds, const MarkChart& second_marks) {
    const auto teeth = chart::teeth_for_agreement(first_marks, second_marks);
    return {{"holds", "tooth pairs that both charted", chart::agreement_on_holds(first_holds, second_holds)},
            {"centric contact", "teeth, those without a mark included",
             chart::agreement_on_stops(first_marks, second_marks, teeth)},
            {"weight", "teeth that both marked in centric", chart::agreement_on_weights(first_marks, second_marks)}};
}

} // namespace

ChartLesson chart_lesson(int number, std::uint64_t seed, chart::Numbering numbering) {
    const bool mirrored = bite::Random(seed, "chart lesson, side").below(2) == 1;
    ChartLesson lesson{.number = number,
                       .seed = seed,
                       .numbering = numbering,
                       .patient = chart_patient(number, mirrored),
                       .title = {},
                       .words = {},
                       .pictures = {},
                       .questions = {}};
    const chart::Situation& situation = lesson.patient.situation;
    lesson.title = lesson.patient.work + " in " + chart::list(situation.treated, numbering);
    lesson.title.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(lesson.title.front())));
    lesson.words = words_of(lesson.patient, numbering);
    lesson.pictures = pictures_of(*situation.now.marks);
    lesson.questions = chart_questions(situation, numbering, seed);
    return lesson;
}

ChartAnswers chart_answers(const ChartLesson& lesson, const std::string& holds, const std::vector<std::string>& marks,
                           const std::vector<std::size_t>& choices) {
    if (marks.size() != lesson.pictures.size() || choices.size() != lesson.questions.size()) {
        throw InputError("This patient has " + report::count(lesson.pictures.size(), "drawing", "drawings") + " and " +
                         report::count(lesson.questions.size(), "question", "questions") +
                         "; answer each of them, in order.");
    }
    ChartAnswers answers;
    answers.holds = chart::read_holds(holds, lesson.numbering);
    for (const std::string& text : marks) {
        MarkChart chart = chart::read_marks(text, lesson.numbering);
        if (chart.has_eccentric() || chart.stages.size() > 1) {
            throw InputError("Chart each drawing by its places alone, as in 16 CF+* MP; the movement is asked for "
                             "afterwards.");
        }
        answers.marks.push_back(std::move(chart));
    }
    for (std::size_t i = 0; i < choices.size(); ++i) {
        if (choices[i] >= lesson.questions[i].choices.size()) {
            throw InputError("Question " + std::to_string(i + 1) + " has no such choice.");
        }
    }
    answers.choices = choices;
    return answers;
}

std::size_t ChartResult::right() const {
    return static_cast<std::size_t>(std::ranges::count_if(items, &ChartItem::right));
}

ChartResult check_charts(const ChartLesson& lesson, const ChartAnswers& answers) {
    ChartResult result;
    const chart::LookCharts& drawn = lesson.patient.situation.now;
    check_holds(*drawn.holds, answers.holds, lesson.numbering, result.items);
    for (std::size_t i = 0; i < lesson.pictures.size(); ++i) {
        check_marks(lesson.pictures[i], answers.marks[i], lesson.numbering, result.items);
    }
    for (std::size_t i = 0; i < lesson.questions.size(); ++i) {
        const ChartQuestion& question = lesson.questions[i];
        result.items.push_back({.part = question.part,
                                .asked = question.asked,
                                .said = question.choices[answers.choices[i]],
                                .is = question.choices[question.right],
                                .right = answers.choices[i] == question.right,
                                .because = question.because});
    }
    result.with_drawing =
        agreement_on(*drawn.holds, lesson.pictures.front().marks, answers.holds, answers.marks.front());
    return result;
}

std::vector<ChartAgreement> agreement_between(const ChartAnswers& first, const ChartAnswers& second) {
    return agreement_on(first.holds, first.marks.front(), second.holds, second.marks.front());
}

std::string agreement_sentence(const ChartAgreement& part) {
    const chart::Agreement& agreement = part.agreement;
    if (!agreement.observed) {
        return part.name + ": nothing that both charted";
    }
    return part.name + ": the same in " + report::number(*agreement.observed * agreement.cases, 0) + " of " +
           report::number(agreement.cases, 0) + " " + part.counted +
           (agreement.kappa ? ", Cohen's kappa " + report::number(*agreement.kappa, 2)
                            : ", Cohen's kappa not defined, since one category was used alone");
}

} // namespace retap::lesson
