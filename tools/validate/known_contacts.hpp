// What could be told if the true contact times were known: ceilings for whatever listens.
#pragma once

#include "validate/simulated.hpp"

namespace retap::validate {

/// How far two takes are apart by their true contact times, as Welch's t without its sign; larger is less alike. What
/// is compared: how long after the tap's first contact the contacts come on average, weighted by their speeds, and
/// how many come within a millisecond; the larger counts. Which teeth meet is not looked at, as sound does not say.
/// Zero with fewer than two taps on either side.
[[nodiscard]] double known_times_distance(const HeardTake& before, const HeardTake& after);

/// The same, told which pair of teeth meets when: the largest t of any pair, of the time of its first contact after the
/// tap's first, for pairs that meet in four taps or more of each take.
[[nodiscard]] double known_teeth_distance(const HeardTake& before, const HeardTake& after);

} // namespace retap::validate
