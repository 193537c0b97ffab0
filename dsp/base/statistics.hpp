// Middle and scatter of values: the mean, and what a stray tap cannot pull away.
#pragma once

#include "dsp/base/take.hpp"

#include <span>

namespace retap::dsp {

/// Mean of samples, summed in double, in which an hour of floats loses nothing that matters; 0 of none.
[[nodiscard]] double mean(std::span<const float> samples);

/// Value below which the part p (0..1, asserted) of the values lies, between order statistics by straight line:
/// position (n-1)p, the "type 7" of Hyndman RJ and Fan Y 1996, Am Stat 50:361-365 (from memory). Not empty, no NaN
/// (asserted). Takes about n steps; leaves the values alone.
[[nodiscard]] double quantile(std::span<const double> values, double p);

/// The middle value; the mean of the two middle ones when their number is even. Not empty, no NaN (asserted).
[[nodiscard]] double median(std::span<const double> values);

/// Robust standard deviation: median distance from the median, times 1.4826 and times a small-sample factor, so that
/// for normal values its expectation is the standard deviation within 1 % for any n of 2 or more (tested). Withstands
/// up to half of the values being wrong. Zero for a single value, and whenever more than half of the values are equal.
/// For normal values it is 37 % as efficient as the ordinary standard deviation: expect it to vary by 1.17/sqrt(n).
[[nodiscard]] double robust_scatter(std::span<const double> values);

/// Median, robust_scatter and number of the values; all zero for none.
[[nodiscard]] Summary summarise(std::span<const double> values);

} // namespace retap::dsp
