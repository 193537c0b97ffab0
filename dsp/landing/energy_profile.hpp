// When the energy of a tap comes, band by band, told from its beginning.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <optional>

namespace retap::dsp {

inline constexpr std::array<double, 4> profile_edges_hz{300.0, 1200.0, 3500.0, 9000.0};
/// Re the onset; narrow where contacts follow each other, 0.1 to 4 ms.
inline constexpr std::array<double, 15> profile_edges_ms{-1.0, -0.4, -0.1, 0.0, 0.1, 0.2, 0.35, 0.6,
                                                         1.0,  1.5,  2.2,  3.2, 4.5, 6.0, 10.0};
inline constexpr std::size_t profile_size = (profile_edges_hz.size() - 1) * (profile_edges_ms.size() - 1);
using EnergyProfile = std::array<double, profile_size>;

/// log(share + .01) of each band's energy by stretch of time, the lowest band first; the noise's share (from 12 to 4 ms
/// before the onset) is taken off. Bands are cut by second-order Butterworth filters, causal: nothing is heard before
/// it sounds. Nothing when the sound does not hold -14 to 10 ms around the onset.
///
/// Gain, polarity and offset have no effect. It is as good as the onset is repeatable: one that moves by 0.05 ms from
/// take to take moves energy between the narrow stretches.
[[nodiscard]] std::optional<EnergyProfile> energy_profile(const TapSound& tap, SampleRate rate);

} // namespace retap::dsp
