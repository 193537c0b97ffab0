// The quiet before a tap: what its offset and its noise are told from.
#pragma once

#include "dsp/base/units.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

namespace retap::dsp {

/// What precedes a tap's `onset` by `guard` or more in `sound`, in whole samples; empty when that is nothing. The guard
/// leaves room for a light first contact that the onset may have missed: each method names its own, since what it looks
/// at begins at another distance from the onset.
[[nodiscard]] inline std::span<const float> quiet_before(std::span<const float> sound, Position onset, Length guard) {
    const double until = std::clamp((onset - guard).samples(), 0.0, static_cast<double>(sound.size()));
    return sound.first(static_cast<std::size_t>(until));
}

/// Mean square of samples about `middle`, 0 of none: about the mean of the quiet it is the power of the noise.
[[nodiscard]] double mean_square(std::span<const float> samples, double middle = 0.0);

} // namespace retap::dsp
