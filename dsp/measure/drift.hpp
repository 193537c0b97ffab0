// Does a measure change while the patient taps?
#pragma once

#include <cstddef>
#include <span>

namespace retap::dsp {

/// Steady change over the taps of a take.
struct Trend {
    double per_tap = 0.0; ///< median of the slopes between all pairs of taps (Theil-Sen), in the measure's unit
    double tau = 0.0;     ///< Kendall: share of pairs that rise less share that fall, -1..1
    double p = 1.0;       ///< chance of a tau this far from 0 without any trend, both sides together (Mann-Kendall)
    std::size_t n = 0;
};

/// Values in the order of the taps, evenly spaced by tap number; no NaN (asserted). Withstands 29 % of the taps being
/// wild. p is exact for up to 60 taps without equal values, else from the normal distribution with the variance
/// corrected for ties and a continuity correction. With fewer than 2 values there is no trend and p is 1; with 4 or
/// fewer p cannot go below 0.08, so no finding can come of it. n^2 log n.
[[nodiscard]] Trend trend_over_taps(std::span<const double> values);

struct SettlingRules {
    std::size_t max_left_out = 3; ///< tapping force re-adapts within 2 or 3 taps (Tanaka 2006, Int Chin J Dent 6:21-28)
    std::size_t min_kept = 6;
    double min_difference = 0.0; ///< in the measure's unit: nearer than this to the rest is never a reason
};

/// How many taps at the start stand apart from those that follow, in this measure: tap by tap from the first one, a tap
/// is left out while it lies farther from the median of all later ones than their robust scatter explains. The limit
/// leaves out a good first tap once in a hundred (normal values, tested). 0 when too few taps would be left. A
/// strange tap after a good one is not a matter of settling and is not touched.
[[nodiscard]] std::size_t taps_before_settled(std::span<const double> values, const SettlingRules& rules = {});

} // namespace retap::dsp
