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

} // namespace retap::dsp
