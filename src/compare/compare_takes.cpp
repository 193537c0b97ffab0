#include "compare/compare_takes.hpp"

namespace retap::compare {

std::vector<SignatureEntry> signature_of(const dsp::TakeAnalysis& /*take*/) {
    return {};
}

Comparison compare_takes(std::span<const dsp::TakeAnalysis> before, std::span<const dsp::TakeAnalysis> after) {
    Comparison result;
    result.before = before.front();
    result.after = after.front();
    return result;
}

} // namespace retap::compare
