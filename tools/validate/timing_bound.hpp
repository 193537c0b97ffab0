// The least error with which two overlapping arrivals can be timed.
#pragma once

#include <span>

namespace retap::validate {

/// Two copies of one known sound in white noise, the second `gap_s` after the first.
struct TwoArrivals {
    double rate_hz = 48000.0;
    double gap_s = 0.0;
    double first = 1.0;    ///< amplitude of each copy
    double second = 1.0;   ///<
    double noise = 0.0;    ///< standard deviation of a sample; positive (asserted)
    double top_hz = 20000; ///< what lies above is not used; at most half the rate counts
};

/// Cramer-Rao bound of the standard deviation of the gap, in seconds, when both times and both amplitudes are unknown
/// and the sound itself is known: the inverse of the 4 x 4 Fisher matrix (Kay SM 1993, Fundamentals of Statistical
/// Signal Processing, vol. I, ch. 3; form from memory). Grows without limit as the gap goes to 0; infinite where the
/// matrix is singular in double precision. Holds for one tap.
[[nodiscard]] double gap_bound_s(std::span<const double> sound, const TwoArrivals& arrivals);

} // namespace retap::validate
