// Taps of one take laid over each other by what they share.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/onset/aic_picker.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// Stretches in samples. A tap is compared from `before` its onset to `after` it, and moved by `farthest` at most.
struct StackLengths {
    std::ptrdiff_t before = 0;
    std::ptrdiff_t after = 0;
    std::ptrdiff_t farthest = 0;
    std::ptrdiff_t search = 0; ///< of which the onset may be early: no noise is measured so near to it
    std::ptrdiff_t quiet = 0;  ///< kept before the onset; more than all of these that reach there together
    [[nodiscard]] std::size_t compared() const { return static_cast<std::size_t>(before + after); }
};

/// One tap, whitened, and where its shared sound is believed to begin.
struct StackedTap {
    std::vector<float> white; ///< `quiet` samples before the first onset, and what is needed beyond it
    double own = 0.0;         ///< its own onset, in `white`
    double at = 0.0;          ///< where the others would have it
    double likeness = 0.0;    ///< its correlation with the sum of the others there
    double noise_power = 0.0; ///< of its quiet
    std::size_t begin = 0;    ///< of `white` in the tap's samples
};

/// A tap at its own onset. Nothing when too little of the sound is there.
[[nodiscard]] std::optional<StackedTap> lay(const TapSound& tap, const NoiseModel& noise, const StackLengths& length);

/// Moves each tap to where it is most like the sum of the others, all with the same energy, so that loud ones do not
/// outvote the rest; three rounds, after each of which the median tap is back at its own onset, since where they all
/// are is not to be learned from each other. Between samples by a parabola, within `farthest` of each own onset. Only
/// where a tap lies among the others has a meaning. Fails where what they share repeats itself within `farthest`.
void align_stack(std::span<StackedTap> taps, const StackLengths& length);

/// What is compared of a tap, `shift` samples later than where it lies.
[[nodiscard]] std::span<const float> compared_stretch(const StackedTap& tap, std::ptrdiff_t shift,
                                                      const StackLengths& length);

/// Sum of the products of two stretches of one length, in single precision.
[[nodiscard]] double product(std::span<const float> a, std::span<const float> b);

} // namespace retap::dsp
