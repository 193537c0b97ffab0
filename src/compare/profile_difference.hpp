// How differently the energy of the taps comes in time on two sides.
#pragma once

#include "dsp/landing/energy_profile.hpp"

#include <optional>
#include <span>

namespace retap::compare {

struct ProfileDifferenceSettings {
    /// What moves a number of a profile besides the taps, nepers: a re-seated pick-up, the onset from take to take.
    double residual = 0.3;
    std::size_t max_taps = 8; ///< a side; more make the middle no better known than the residual
    double usual = 0.55;      ///< the difference in the middle of unchanged pairs
};

/// The root mean square, over the numbers of a profile, of the difference of their middles over its standard error:
/// the scatter of the taps about their middle, the same on both sides, and the residual. Nothing when a side has fewer
/// than two profiles. The same when the sides are swapped.
///
/// Plain distance on purpose: with the covariance of the numbers it told no more.
[[nodiscard]] std::optional<double> profile_difference(std::span<const dsp::EnergyProfile> before,
                                                       std::span<const dsp::EnergyProfile> after,
                                                       const ProfileDifferenceSettings& settings = {});

} // namespace retap::compare
