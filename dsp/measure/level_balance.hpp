// Which of two channels hears a tap louder.
#pragma once

#include "dsp/base/units.hpp"

#include <optional>
#include <span>

namespace retap::dsp {

struct BalanceSettings {
    double before_ms = 1.0; ///< stretch whose energy is compared, from before the onset
    double after_ms = 35.0; ///< to after it: the tap itself (masseter activity resumes at about 35 ms)
};

/// Level of left over right in dB: ratio of the energies over the stretch, each less the noise of its own channel (mean
/// square of what precedes the stretch in the excerpt, its mean taken off from both). Both excerpts have the same
/// length, and `onset` lies within (asserted). Pick-ups of unequal sensitivity shift it by a constant.
/// Nothing is returned when either channel has no more than its noise.
[[nodiscard]] std::optional<double> left_excess_db(std::span<const float> left, std::span<const float> right,
                                                   Position onset, SampleRate rate, const BalanceSettings& settings);

} // namespace retap::dsp
