#include "chart/sound_says.hpp"

#include <algorithm>
#include <array>

namespace retap::chart {

std::string_view word(FirstContact first) {
    switch (first) {
    case FirstContact::not_told:
        return "not told";
    case FirstContact::as_before:
        return "as before";
    case FirstContact::earlier:
        return "earlier";
    case FirstContact::later:
        break;
    }
    return "later";
}

std::optional<FirstContact> first_contact_from(std::string_view wanted) {
    for (const auto first :
         {FirstContact::not_told, FirstContact::as_before, FirstContact::earlier, FirstContact::later}) {
        if (wanted == word(first)) {
            return first;
        }
    }
    return std::nullopt;
}

FirstContact first_contact(const compare::Comparison& comparison) {
    const auto* first = compare::measure_named(comparison.measures, word(compare::EvidenceKind::first_sound));
    if (first == nullptr || first->finding == compare::Finding::unclear) {
        return FirstContact::not_told;
    }
    if (first->finding == compare::Finding::within) {
        return FirstContact::as_before;
    }
    return first->difference > 0.0 ? FirstContact::earlier : FirstContact::later;
}

SoundSays sound_says(const compare::Comparison& comparison) {
    const compare::Likeness& likeness = comparison.likeness;
    return {comparison.verdict, tells(likeness) ? std::optional(likeness.score) : std::nullopt,
            first_contact(comparison)};
}

} // namespace retap::chart
