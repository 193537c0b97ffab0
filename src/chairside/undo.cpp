#include "chairside/undo.hpp"

#include <algorithm>
#include <vector>

namespace retap::chairside {

namespace {

using visit::Entry;
using visit::Visit;

template <class Content>
bool is(const Entry& entry) {
    return std::holds_alternative<Content>(entry.body);
}

const Entry& entry_at(const Visit& visit, int number) {
    return visit.entries.at(static_cast<std::size_t>(number) - 1);
}

/// Something entered by hand, and the entry that stands for it now.
struct Step {
    const Entry* entry;
    int standing;
};

bool same_content(const Entry& a, const Entry& b) {
    return a.look == b.look && visit::kind_of(a.body) == visit::kind_of(b.body) &&
           visit::fields_of(a.body).all() == visit::fields_of(b.body).all();
}

void now_stands(std::vector<Step>& steps, int before, int now) {
    for (Step& step : steps) {
        step.standing = step.standing == before ? now : step.standing;
    }
}

/// The steps that are not undone, oldest first.
std::vector<Step> steps_of(const Visit& visit) {
    std::vector<Step> steps;
    for (const Entry& entry : visit.entries) {
        if (is<visit::Compared>(entry) || is<visit::Signed>(entry) || (is<visit::Opened>(entry) && !entry.correction) ||
            entry.inherited) {
            continue;
        }
        const Entry* const last = steps.empty() ? nullptr : steps.back().entry;
        if (entry.correction) {
            now_stands(steps, entry.correction->of, entry.number);
            if (entry.correction->reason == undo_reason && last != nullptr) {
                steps.pop_back();
                continue;
            }
        } else if (last != nullptr && is<visit::Withdrawn>(*last) &&
                   same_content(entry, entry_at(visit, last->correction->of))) {
            // What was withdrawn is entered again: the withdrawal is undone.
            now_stands(steps, last->number, entry.number);
            steps.pop_back();
            continue;
        }
        steps.push_back({&entry, entry.number});
    }
    return steps;
}

std::string words_for(const Entry& entry) {
    struct Namer {
        std::string operator()(const visit::HoldsCharted&) const { return "film"; }
        std::string operator()(const visit::MarksCharted&) const { return "marks"; }
        std::string operator()(const visit::TakeKept&) const { return "take"; }
        std::string operator()(const visit::FeelNoted&) const { return "what the patient says"; }
        std::string operator()(const visit::CrossbiteSaid&) const { return "crossbite"; }
        std::string operator()(const visit::WarningNoted&) const { return "warning sign"; }
        std::string operator()(const visit::Decided&) const { return "decision"; }
        std::string operator()(const visit::Opened&) const { return "details"; }
        std::string operator()(const visit::Withdrawn&) const { return "taking back"; }
        std::string operator()(const visit::Compared&) const { return {}; }
        std::string operator()(const visit::Signed&) const { return {}; }
    };
    const std::string what = std::visit(Namer(), entry.body);
    return entry.look ? what + ", " + title_of(*entry.look) : what;
}

} // namespace

std::string title_of(const visit::LookName& name) {
    std::string title = name.kind == visit::LookKind::before  ? "Before"
                        : name.kind == visit::LookKind::after ? "After"
                                                              : "Recheck";
    return name.number == 1 ? title : title + " " + std::to_string(name.number);
}

std::optional<UndoStep> undo_of(const Visit& visit) {
    if (visit.closed()) {
        return std::nullopt;
    }
    const std::vector<Step> steps = steps_of(visit);
    if (steps.empty()) {
        return std::nullopt;
    }
    const Entry& last = *steps.back().entry;
    UndoStep undo;
    undo.words = words_for(last);
    undo.entry.look = last.look;
    if (is<visit::Withdrawn>(last)) {
        const Entry& back = entry_at(visit, last.correction->of);
        undo.entry.body = back.body;
        if (is<visit::TakeKept>(back)) {
            undo.take_again = back.number;
        }
        return undo;
    }
    undo.entry.correction = visit::Correction{steps.back().standing, std::string(undo_reason)};
    if (last.correction) {
        undo.entry.body = entry_at(visit, last.correction->of).body;
    } else {
        undo.entry.body = visit::Withdrawn{};
    }
    return undo;
}

} // namespace retap::chairside
