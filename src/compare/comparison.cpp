#include "compare/comparison.hpp"

#include <algorithm>

namespace retap::compare {

std::string_view word(Verdict verdict) {
    switch (verdict) {
    case Verdict::alike:
        return "alike";
    case Verdict::different:
        return "different";
    case Verdict::unclear:
        break;
    }
    return "unclear";
}

std::string_view word(Finding finding) {
    switch (finding) {
    case Finding::within:
        return "within";
    case Finding::beyond:
        return "beyond";
    case Finding::unclear:
        break;
    }
    return "unclear";
}

const MeasureComparison* measure_named(std::span<const MeasureComparison> measures, std::string_view name) {
    const auto found = std::ranges::find(measures, name, &MeasureComparison::name);
    return found == measures.end() ? nullptr : &*found;
}

std::string_view word(EvidenceKind kind) {
    switch (kind) {
    case EvidenceKind::landing:
        return "landing";
    case EvidenceKind::first_sound:
        return "first_sound";
    case EvidenceKind::energy_profile:
        return "energy_profile";
    case EvidenceKind::later_contacts:
        return "later_contacts";
    case EvidenceKind::level:
        break;
    }
    return "level";
}

} // namespace retap::compare
