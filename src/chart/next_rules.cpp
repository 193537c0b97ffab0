#include "chart/next_rules.hpp"

#include "chart/rule_tables.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

Advice advice_of(const Rule& rule, const Assessment& a, Numbering numbering) {
    Advice advice{&rule};
    if (rule.evidence != nullptr) {
        advice.evidence = rule.evidence(a, numbering);
    }
    if (rule.marks != nullptr) {
        for (const Mark& mark : rule.marks(a)) {
            advice.marks.push_back(note_of(mark, a.treated(mark.tooth), a.situation.crossbite, numbering));
        }
    }
    advice.step = rule.step_now == nullptr ? rule.step : rule.step_now(a);
    return advice;
}

bool held_back(const Rule& rule, const std::vector<Advice>& so_far) {
    return rule.held_back_by != nullptr &&
           std::ranges::any_of(so_far, [&](const Advice& advice) { return rule.held_back_by(*advice.rule); });
}

} // namespace

std::string_view word(Blocks blocks) {
    switch (blocks) {
    case Blocks::nothing:
        return "nothing";
    case Blocks::done:
        return "done";
    case Blocks::judgement:
        return "judgement";
    case Blocks::work:
        break;
    }
    return "work";
}

std::span<const Rule> next_rules() {
    static const std::vector<Rule> table = [] {
        std::vector<Rule> joined;
        for (const auto part : {rules_of_baseline(), rules_of_checks(), rules_of_flags(), rules_of_restoration(),
                                rules_of_sound(), rules_of_patient(), rules_of_movements(), rules_of_ends()}) {
            joined.insert(joined.end(), part.begin(), part.end());
        }
        return joined;
    }();
    return table;
}

std::vector<Advice> next_steps(const Assessment& assessment, Numbering numbering) {
    std::vector<Advice> steps;
    for (const Rule& rule : next_rules()) {
        if (rule.applies(assessment) && !held_back(rule, steps)) {
            steps.push_back(advice_of(rule, assessment, numbering));
        }
    }
    return steps;
}

const Advice* first_step(const std::vector<Advice>& advice) {
    const auto first = std::ranges::find_if(
        advice, [](const Advice& one) { return one.step != Step::none && one.step != Step::leave_alone; });
    return first == advice.end() ? nullptr : &*first;
}

} // namespace retap::chart
