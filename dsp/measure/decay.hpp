// How fast a sound dies away, from its backward-integrated energy.
#pragma once

#include "dsp/base/units.hpp"

#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// The part of the decay a straight line is fitted to, in dB below the start. ISO 3382-1 names three.
struct DecayRange {
    Level from;
    Level to; ///< below `from` (asserted)
};
inline constexpr DecayRange early_decay{.from = Level(0.0), .to = Level(-10.0)}; ///< EDT
inline constexpr DecayRange decay_t20{.from = Level(-5.0), .to = Level(-25.0)};
inline constexpr DecayRange decay_t30{.from = Level(-5.0), .to = Level(-35.0)};

/// Energy from each sample to the end, in dB below all of it (Schroeder's backward integration). `noise` is the RMS of
/// the steady noise, re full scale; its expected energy is taken off. Ends where nothing above the noise remains. Empty
/// when there is nothing above the noise at all.
[[nodiscard]] std::vector<double> decay_curve_db(std::span<const float> sound, Level noise);

/// Time to fall by 60 dB at the rate of the least-squares line through the decay curve within `range`. `sound` begins
/// where the sound begins. An exponential decay with amplitude constant tau gives 6.9078 tau in every range.
///
/// Nothing is returned when the sound does not show the range: it is cut off before the curve is a safe 10 dB past the
/// end of the range (the missing tail would then shorten the result by several per cent), or less than half of
/// what remains there is above the noise, or the range holds fewer than three samples.
[[nodiscard]] std::optional<Length> decay_time(std::span<const float> sound, Level noise, DecayRange range);

} // namespace retap::dsp
