// The energy profile as a rival: how far apart two takes are by it alone.
#pragma once

#include "dsp/landing/energy_profile.hpp"

#include <span>

namespace retap::validate {

/// Distance of the middle profiles, each number over the scatter of the taps about its middle; root mean square over
/// the numbers. Zero where a side has fewer than two taps.
[[nodiscard]] double profile_distance(std::span<const dsp::EnergyProfile> before,
                                      std::span<const dsp::EnergyProfile> after);

} // namespace retap::validate
