// The comparator: takes on both sides in, one answer out.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/take.hpp"

#include <span>
#include <string>
#include <vector>

namespace retap::compare {

/// One measure of a take: what it is called, its unit, and its middle and scatter over the usable taps.
struct SignatureEntry {
    std::string name;
    std::string unit;
    dsp::Summary summary;
};

/// What a take is summarised to, one entry per measure that could be taken. Order is fixed.
[[nodiscard]] std::vector<SignatureEntry> signature_of(const dsp::TakeAnalysis& take);

/// Compares before with after. Each side has at least one take (asserted); further ones are repeats with the pick-up
/// taken off and put back, and teach how much re-seating moves each measure. Takes that are not fit give `unclear`
/// with the reason. Symmetric: swapping the sides gives the same score and the opposite differences.
[[nodiscard]] Comparison compare_takes(std::span<const dsp::TakeAnalysis> before,
                                       std::span<const dsp::TakeAnalysis> after);

} // namespace retap::compare
