#include "lesson/chart_questions.hpp"

#include "bite/random.hpp"
#include "chart/next_rules.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace retap::lesson {

namespace {

using chart::Mark;
using chart::Stage;

std::string place_in_words(const Mark& mark, chart::Numbering numbering) {
    Mark straight = mark;
    straight.stage = Stage::centric;
    return chart::plain_name(straight, numbering);
}

ChartQuestion role_of_cusp(const Mark& mark, const chart::Situation& s, chart::Numbering numbering) {
    ChartQuestion question{.part = "role",
                           .asked = "What is it that is marked at the " + place_in_words(mark, numbering) + "?",
                           .choices = {"A supporting cusp", "A guiding cusp", "No cusp"},
                           .right = 2,
                           .because = "A fossa or a ridge is no cusp; a cusp of the other tooth meets it."};
    if (const auto role = chart::role(mark.tooth, mark.place.spot, s.crossbite)) {
        question.right = *role == chart::CuspRole::supporting ? 0 : 1;
        question.because = "Upper palatal and lower buccal cusps support the bite, upper buccal and lower lingual "
                           "ones guide it; in crossbite the roles turn round.";
    }
    return question;
}

ChartQuestion carries_bite(const Mark& mark, const chart::Situation& s, chart::Numbering numbering) {
    return {.part = "carries",
            .asked = "Does the mark at the " + place_in_words(mark, numbering) + " carry the closed bite?",
            .choices = {"Yes, it is a stop", "No, it lies on an incline", "No, a guiding cusp does not carry it"},
            .right = chart::is_stop(mark, s.crossbite) ? std::size_t{0}
                                                       : (mark.place.incline ? std::size_t{1} : std::size_t{2}),
            .because = "A stop is on a supporting cusp, in a fossa or on a marginal ridge, and on no incline."};
}

ChartQuestion side_of_movement(const Mark& mark, chart::Numbering numbering) {
    return {.part = "movement",
            .asked = "On which side was the " + place_in_words(mark, numbering) + " marked?",
            .choices = {"The working side", "The non-working side", "Neither: the jaw slid forward"},
            .right = mark.stage == Stage::working
                         ? std::size_t{0}
                         : (mark.stage == Stage::non_working ? std::size_t{1} : std::size_t{2}),
            .because = "The working side is the one that the jaw slides to; the other one is the non-working side."};
}

const chart::Rule* rule_named(std::string_view id) {
    const auto rules = chart::next_rules();
    const auto found = std::ranges::find(rules, id, &chart::Rule::id);
    assert(found != rules.end());
    return &*found;
}

/// One right suggestion among three that do not apply. "Done" is always among them: stopping too early is what a
/// learner must learn not to do.
ChartQuestion what_is_next(const chart::Situation& situation, chart::Numbering numbering, std::uint64_t seed) {
    const auto advice = chart::next_steps(chart::Assessment(situation), numbering);
    const chart::Advice* const first = chart::first_step(advice);
    assert(first != nullptr); // every patient of the table has something to do, if only to have it signed
    constexpr std::array<std::string_view, 8> others = {"done",           "restoration-high",  "no-stop",
                                                        "incline-only",   "high-while-numb",   "mark-centric-again",
                                                        "eccentric-next", "only-sound-differs"};
    std::vector<const chart::Rule*> wrong;
    for (const std::string_view id : others) {
        if (std::ranges::none_of(advice, [&](const chart::Advice& one) { return one.rule->id == id; })) {
            wrong.push_back(rule_named(id));
        }
    }
    bite::Random random(seed, "chart lesson, choices");
    constexpr std::size_t wrong_shown = 3;
    const std::size_t kept_first = wrong.front()->id == "done" ? 1 : 0;
    while (wrong.size() > wrong_shown) {
        wrong.erase(wrong.begin() + static_cast<std::ptrdiff_t>(kept_first + random.below(wrong.size() - kept_first)));
    }
    ChartQuestion question{.part = "next",
                           .asked = "What is usually next?",
                           .choices = {},
                           .right = random.below(wrong.size() + 1),
                           .because = std::string(first->rule->why)};
    for (const chart::Rule* rule : wrong) {
        question.choices.emplace_back(rule->suggestion);
    }
    question.choices.insert(question.choices.begin() + static_cast<std::ptrdiff_t>(question.right),
                            std::string(first->rule->suggestion));
    for (const std::string& sentence : first->evidence) {
        question.because += " " + sentence;
    }
    return question;
}

} // namespace

std::vector<ChartQuestion> chart_questions(const chart::Situation& situation, chart::Numbering numbering,
                                           std::uint64_t seed) {
    std::vector<ChartQuestion> questions;
    for (const Mark& mark : situation.now.marks->marks) {
        if (mark.tooth.front()) {
            continue; // front teeth have no cusps with these roles
        }
        questions.push_back(role_of_cusp(mark, situation, numbering));
        questions.push_back(mark.stage == Stage::centric ? carries_bite(mark, situation, numbering)
                                                         : side_of_movement(mark, numbering));
    }
    questions.push_back(what_is_next(situation, numbering, seed));
    return questions;
}

} // namespace retap::lesson
