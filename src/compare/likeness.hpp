// From deciding differences to the likeness and the verdict.
#pragma once

#include "compare/comparison.hpp"

#include <span>

namespace retap::compare {

/// The size of a difference in times of its tolerance: 0 for none, 1 at the tolerance. `low` (0 or more) and `high` are
/// its interval. In this form measures of any unit can be held against each other.
struct RelativeSize {
    double value = 0.0;
    double low = 0.0;
    double high = 0.0;
};

/// Of a difference of any sign, known to within `reach` to either side. `reach` 0 or more, `tolerance` positive
/// (asserted).
[[nodiscard]] RelativeSize relative_size(double difference, double reach, double tolerance);

/// Equivalence, not difference: `within` when the whole interval lies under the tolerance, `beyond` when it lies wholly
/// over it.
[[nodiscard]] Finding judge(const RelativeSize& size);

/// The likeness by the worst of the deciding differences: 100 for none at all, 50 for one at its tolerance, towards 0
/// beyond, 100 / (1 + size^steepness); and the interval by the worst ends. What a score means in shares of unchanged
/// pairs is calibrated by tools/validate, and published with its page.
[[nodiscard]] Likeness likeness_of(std::span<const RelativeSize> deciding, double steepness);

/// `alike` when all are within, `different` when one is beyond, else `unclear`. All of none is `unclear`.
[[nodiscard]] Verdict verdict_of(std::span<const Finding> deciding);

} // namespace retap::compare
