// The measures of single taps, before and after: shown with their intervals, with no part in the verdict.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"

#include <span>
#include <vector>

namespace retap::compare {

/// One entry for each measure that two taps or more of either side have, in the order of values_by_measure().
/// Differences are of means, with a `confidence` interval after Welch; the tolerance is twice the larger scatter.
[[nodiscard]] std::vector<MeasureComparison>
shown_measures(std::span<const dsp::TakeAnalysis> before, std::span<const dsp::TakeAnalysis> after, double confidence);

} // namespace retap::compare
