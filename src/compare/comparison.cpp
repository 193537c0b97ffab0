#include "compare/comparison.hpp"

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

Likeness shown_likeness(const Comparison& comparison) {
    return comparison.before.fitness.usable && comparison.after.fitness.usable ? comparison.likeness : no_likeness;
}

} // namespace retap::compare
