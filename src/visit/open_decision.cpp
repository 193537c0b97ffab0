#include "visit/open_decision.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

std::optional<bool> numb_up_to(const Visit& visit, const LookName& name) {
    std::optional<bool> numb;
    for (const Look& look : visit.looks) {
        if (look.name <= name && look.feel && look.feel->content.numb) {
            numb = look.feel->content.numb;
        }
    }
    return numb;
}

} // namespace

std::optional<OpenDecision> open_decision(const Visit& visit) {
    std::optional<OpenDecision> open;
    LookName latest;
    for (const Entry& entry : visit.entries) {
        if (std::binary_search(visit.superseded.begin(), visit.superseded.end(), entry.number)) {
            continue;
        }
        if (const auto* decided = std::get_if<Decided>(&entry.body)) {
            const LookName look = entry.look.value_or(latest);
            if (look < latest) {
                continue;
            }
            open.reset();
            if (decided->action == Action::wait || decided->action == Action::adjust) {
                open = OpenDecision{{entry.number, entry.stamp, *decided, entry.inherited}, look, {}};
            }
        } else if (entry.look) {
            if (open && *entry.look > open->look) {
                open.reset();
            }
            latest = std::max(latest, *entry.look);
        }
    }
    if (open) {
        open->numb = numb_up_to(visit, open->look);
    }
    return open;
}

bool is_last(const Visit& visit, const LookName& look) {
    return std::all_of(visit.looks.begin(), visit.looks.end(), [&](const Look& other) { return other.name <= look; });
}

} // namespace retap::visit
