// What the rules about the next step are told of a visit.
#include "visit/inherit.hpp"
#include "visit/open_decision.hpp"
#include "visit/visit.hpp"

namespace retap::visit {

chart::Crossbite Visit::crossing() const {
    return crossbite ? crossbite->content.crossbite : chart::Crossbite{};
}

namespace {

/// Numbness lasts for hours: what an earlier look of the same day noted stands until a later one notes otherwise.
std::optional<bool> numb_at(const Visit& visit, const Look& at) {
    std::optional<bool> numb;
    for (const Look& look : visit.looks) {
        const bool same_day = (look.name.kind == LookKind::recheck) == (at.name.kind == LookKind::recheck);
        if (look.name <= at.name && same_day && look.feel && look.feel->content.numb) {
            // feeling that was there before the work says nothing of the hours after an injection
            const bool tells = *look.feel->content.numb || look.name == at.name;
            numb = tells ? look.feel->content.numb : std::nullopt;
        }
    }
    return numb;
}

std::optional<chart::Action> decided_at(const Visit& visit, const Look& at) {
    if (!at.decisions.empty()) {
        return at.decisions.back().content.action;
    }
    // a decision that names no look was taken at the one that was there
    const auto open = open_decision(visit);
    return open && open->look == at.name ? std::optional(open->decision.content.action) : std::nullopt;
}

} // namespace

chart::Situation situation_of(const Visit& visit, const Look* look, std::optional<chart::SoundSays> sound) {
    chart::Situation situation;
    situation.treated = visit.opened.content.treated;
    situation.crossbite = visit.crossing();
    for (const auto& noted : visit.warnings) {
        situation.warnings.push_back(noted.content.warning);
    }
    if (const Look* before = visit.baseline()) {
        situation.before = before->charts();
        situation.before_has_sound = !before->takes.empty();
        situation.numb = numb_at(visit, *before);
    }
    // The baseline of an earlier visit is one from before the work: what comes next is to look again.
    situation.restored = look != nullptr || baseline_is_inherited(visit);
    if (look == nullptr) {
        return situation;
    }
    situation.now = look->charts();
    situation.now_has_sound = !look->takes.empty();
    if (look->comparison) {
        const Compared& kept = look->comparison->content;
        situation.sound = chart::SoundSays(
            kept.verdict, tells(kept.likeness) ? std::optional(kept.likeness.score) : std::nullopt, kept.first_contact);
    } else {
        situation.sound = sound;
    }
    situation.numb = numb_at(visit, *look);
    situation.decided = decided_at(visit, *look);
    if (look->feel) {
        situation.feel = look->feel->content.feel;
    }
    for (const Look& earlier : visit.looks) {
        situation.eccentric_before_this_look =
            situation.eccentric_before_this_look ||
            (earlier.name < look->name && earlier.marks && earlier.marks->content.marks.has_eccentric());
    }
    return situation;
}

} // namespace retap::visit
