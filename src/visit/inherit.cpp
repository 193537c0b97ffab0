#include "visit/inherit.hpp"

#include "visit/clock.hpp"
#include "visit/open_decision.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

template <class Content>
TakenOver copy_of(const Visit& earlier, const Said<Content>& said, std::optional<LookName> look, const Stamp& stamp) {
    const Inherited origin = said.inherited.value_or(Inherited{earlier.uid, said.entry, said.stamp});
    return {{stamp, look, std::nullopt, said.content, origin}, said.entry};
}

std::string called(const Link& link) {
    if (link.erased) {
        return "a visit that was erased";
    }
    if (link.id == 0) {
        return "a visit that is not in this store";
    }
    return "visit " + std::to_string(link.id) + " (" + link.label + ", opened " + local_text(link.opened_at) + ")";
}

} // namespace

std::vector<TakenOver> taken_over(const Visit& earlier, const Stamp& stamp) {
    std::vector<TakenOver> taken;
    if (const Look* before = earlier.baseline()) {
        if (before->holds) {
            taken.push_back(copy_of(earlier, *before->holds, before->name, stamp));
        }
        if (before->marks) {
            taken.push_back(copy_of(earlier, *before->marks, before->name, stamp));
        }
        for (const auto& take : before->takes) {
            taken.push_back(copy_of(earlier, take, before->name, stamp));
        }
    }
    // who crosses whom, and what was seen and talked over, are the patient's and not the day's
    if (earlier.crossbite) {
        taken.push_back(copy_of(earlier, *earlier.crossbite, std::nullopt, stamp));
    }
    for (const auto& noted : earlier.warnings) {
        taken.push_back(copy_of(earlier, noted, std::nullopt, stamp));
    }
    if (const auto open = open_decision(earlier)) {
        taken.push_back(copy_of(earlier, open->decision, std::nullopt, stamp));
    }
    return taken;
}

bool baseline_is_inherited(const Visit& visit) {
    const Look* before = visit.baseline();
    return before != nullptr &&
           ((before->holds && before->holds->inherited) || (before->marks && before->marks->inherited) ||
            std::any_of(before->takes.begin(), before->takes.end(),
                        [](const Said<TakeKept>& take) { return take.inherited.has_value(); }));
}

std::vector<std::string> sentences(const Chain& chain) {
    std::vector<std::string> said;
    for (const Link& link : chain.earlier) {
        said.push_back((said.empty() ? "Continues " : "Before that: ") + called(link) + ".");
    }
    for (const Link& link : chain.later) {
        said.push_back("Is continued by " + called(link) + ".");
    }
    return said;
}

} // namespace retap::visit
