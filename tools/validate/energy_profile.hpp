// When the energy of a tap comes, band by band, as a rival: 42 numbers a tap, no model.
#pragma once

#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::validate {

inline constexpr std::array<double, 4> profile_edges_hz{300.0, 1200.0, 3500.0, 9000.0};
/// After the onset; narrow where contacts follow each other, 0.1 to 4 ms.
inline constexpr std::array<double, 15> profile_edges_ms{-1.0, -0.4, -0.1, 0.0, 0.1, 0.2, 0.35, 0.6,
                                                         1.0,  1.5,  2.2,  3.2, 4.5, 6.0, 10.0};
inline constexpr std::size_t profile_size = (profile_edges_hz.size() - 1) * (profile_edges_ms.size() - 1);
using Profile = std::array<double, profile_size>;

/// log(share + .01) of each band's energy by bin of time, the noise's share (from 12 to 4 ms before the onset) taken
/// off. Bands are cut by second-order Butterworth filters, causal. Nothing when the excerpt does not hold -14 to 10 ms
/// around the onset.
[[nodiscard]] std::optional<Profile> energy_profile(std::span<const float> excerpt, dsp::Position onset,
                                                    dsp::SampleRate rate);

/// Distance of the middle profiles, each number over the scatter of the taps about its middle; root mean square over
/// the numbers. Zero where a side has fewer than two taps.
[[nodiscard]] double profile_distance(std::span<const Profile> before, std::span<const Profile> after);

} // namespace retap::validate
