// From the difference of landing to the likeness and the verdict.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/comparison.hpp"

namespace retap::compare {

/// 100 for no difference at all, 50 at the tolerance, towards 0 beyond: 100 / (1 + (ratio / tolerance)^steepness). What
/// a score means in shares of unchanged pairs is calibrated by tools/validate, and published with its page.
[[nodiscard]] double likeness_of(double ratio, const CompareSettings& settings);

/// Likeness with the interval that the standard error leaves open.
[[nodiscard]] Likeness likeness_with_interval(const LandingDifference& difference, const CompareSettings& settings);

/// Equivalence, not difference: `within` when the whole interval lies under the tolerance, `beyond` when it lies wholly
/// over it.
[[nodiscard]] Finding judge_landing(const LandingDifference& difference, const CompareSettings& settings);

} // namespace retap::compare
