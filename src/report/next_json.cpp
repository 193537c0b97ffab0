#include "report/next_json.hpp"

#include "visit/inherit.hpp"

namespace retap::report {

namespace {

constexpr auto iso = chart::Numbering::iso;

/// The number that the next look of this kind would have.
int next_number(const visit::Visit& visit, visit::LookKind kind) {
    int number = 1;
    for (const visit::Look& look : visit.looks) {
        number = look.name.kind == kind ? look.name.number + 1 : number;
    }
    return number;
}

/// What is looked at while no look after the work exists: a visit that continues another is there to look again.
std::string look_without_any(const visit::Visit& visit) {
    return baseline_is_inherited(visit) ? "recheck" : "before";
}

std::string look_of_step(const visit::Visit& visit, const visit::Look* look, chart::Step step) {
    if (step == chart::Step::recheck || step == chart::Step::wait) {
        return visit::text({visit::LookKind::recheck, next_number(visit, visit::LookKind::recheck)});
    }
    if (look == nullptr) {
        return step == chart::Step::start_work ? "after" : look_without_any(visit);
    }
    return step == chart::Step::new_look ? visit::text({look->name.kind, next_number(visit, look->name.kind)})
                                         : text(look->name);
}

Json texts_json(const std::vector<std::string_view>& texts) {
    Json list = Json::array();
    for (const std::string_view one : texts) {
        list.push_back(one);
    }
    return list;
}

Json mark_json(const chart::Mark& mark) {
    return {{"tooth", name(mark.tooth, iso)},
            {"place", code(mark.tooth, mark.place)},
            {"plain", plain_name(mark.tooth, mark.place)},
            {"stage", chart::word(mark.stage)},
            {"weight", chart::word(mark.weight)},
            {"where", chart::word(mark.where)}};
}

} // namespace

NextThings next_of(const visit::Visit& visit, const visit::Look* look, std::optional<chart::SoundSays> sound) {
    const bool baseline = look == nullptr || look->name.kind == visit::LookKind::before;
    const visit::Look* const judged = baseline ? nullptr : look;
    chart::Assessment assessment(situation_of(visit, judged, sound));
    std::vector<chart::Advice> advice = chart::next_steps(assessment, visit.numbering());
    const chart::Advice* const first = chart::first_step(advice);
    const std::string first_look = first == nullptr ? "" : look_of_step(visit, judged, first->step);
    return {std::move(assessment), std::move(advice), baseline ? look_without_any(visit) : text(look->name),
            first_look};
}

Json advice_json(const std::vector<chart::Advice>& advice) {
    Json list = Json::array();
    for (const chart::Advice& one : advice) {
        Json marks = Json::array();
        for (const chart::MarkNote& note : one.marks) {
            marks.push_back(mark_note_json(note));
        }
        list.push_back({{"rule", one.rule->id},
                        {"when", one.rule->when},
                        {"suggestion", one.rule->suggestion},
                        {"why", one.rule->why},
                        {"source", one.rule->source},
                        {"defers_to", one.rule->defers_to},
                        {"blocks", chart::word(one.rule->blocks)},
                        {"step", chart::word(one.step)},
                        {"evidence", one.evidence},
                        {"marks", std::move(marks)}});
    }
    return list;
}

Json first_step_json(const NextThings& next) {
    const chart::Advice* const first = chart::first_step(next.advice);
    if (first == nullptr) {
        return nullptr;
    }
    return {{"step", chart::word(first->step)},
            {"look", next.first_look},
            {"rule", first->rule->id},
            {"how_to", how_to_json(first->step)}};
}

Json questions_json(const NextThings& next, chart::Numbering numbering) {
    Json list = Json::array();
    for (const chart::Question& question : chart::open_questions(next.assessment, numbering)) {
        Json marks = Json::array();
        for (const chart::Mark& mark : question.marks) {
            marks.push_back(mark_json(mark));
        }
        Json teeth = Json::array();
        for (const chart::Tooth tooth : question.teeth) {
            teeth.push_back(name(tooth, iso));
        }
        list.push_back({{"question", question.id},
                        {"text", question.text},
                        {"answers", texts_json(question.answers)},
                        {"marks", std::move(marks)},
                        {"teeth", std::move(teeth)}});
    }
    return list;
}

Json contradictions_json(const NextThings& next, chart::Numbering numbering) {
    Json list = Json::array();
    for (const chart::Contradiction& one : chart::contradictions(next.assessment, numbering)) {
        list.push_back({{"contradiction", one.id},
                        {"plain", one.sentence},
                        {"look_again", one.first},
                        {"step", chart::word(one.step)}});
    }
    return list;
}

Json mark_note_json(const chart::MarkNote& note) {
    Json json = mark_json(note.mark);
    json["treated"] = note.treated;
    json["side"] = chart::word(note.side);
    json["role"] = note.role ? Json(chart::word(*note.role)) : Json(nullptr);
    json["crossbite"] = note.crossbite;
    json["stop"] = note.stop;
    json["movement"] = note.movement;
    json["movement_side"] = note.where;
    json["named_by"] = texts_json(note.named_by);
    json["not_named_by"] = texts_json(note.not_named_by);
    json["disputed"] = note.disputed;
    json["sentence"] = note.sentence;
    return json;
}

Json how_to_json(chart::Step step) {
    Json list = Json::array();
    for (const chart::HowTo& one : chart::how_to(step)) {
        list.push_back({{"do", one.text}, {"why", one.why}, {"source", one.source}});
    }
    return list;
}

Json rules_json() {
    Json rules = Json::array();
    for (const chart::Rule& rule : chart::next_rules()) {
        rules.push_back({{"rule", rule.id},
                         {"when", rule.when},
                         {"suggestion", rule.suggestion},
                         {"why", rule.why},
                         {"source", rule.source},
                         {"defers_to", rule.defers_to},
                         {"blocks", chart::word(rule.blocks)}});
    }
    Json mnemonics = Json::array();
    for (const chart::Mnemonic& mnemonic : chart::mnemonics()) {
        Json letters = Json::array();
        for (const auto& [letter, meaning] : mnemonic.meaning) {
            letters.push_back({{"letter", std::string(1, letter)}, {"means", meaning}});
        }
        mnemonics.push_back({{"mnemonic", mnemonic.letters},
                             {"stage", chart::word(mnemonic.stage)},
                             {"says", mnemonic.says},
                             {"disputed", mnemonic.disputed},
                             {"source", mnemonic.source},
                             {"letters", std::move(letters)}});
    }
    Json steps = Json::array();
    for (const chart::Step step : chart::steps_with_how_to()) {
        steps.push_back({{"step", chart::word(step)}, {"how_to", how_to_json(step)}});
    }
    Json signs = Json::array();
    for (const chart::WarningSign& sign : chart::warning_signs) {
        signs.push_back({{"warning", sign.word}, {"plain", sign.plain}});
    }
    return {{"format", "retap.rules/1"}, {"rules", std::move(rules)},         {"mnemonics", std::move(mnemonics)},
            {"steps", std::move(steps)}, {"warning_signs", std::move(signs)}, {"note", chart::mnemonic_note()}};
}

} // namespace retap::report
