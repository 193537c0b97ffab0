// How long after the very first arrival the energy of a tap comes, as a rival: one number a tap.
#pragma once

#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>

namespace retap::validate {

/// Index of the change point of `samples`: the minimum of k log var(x[0..k]) + (n - k - 1) log var(x[k+1..n]) (Maeda
/// 1985, Zisin 38:365-379; form from memory). Nothing for fewer than 8 samples.
[[nodiscard]] std::optional<std::size_t> aic_pick(std::span<const float> samples);

/// Milliseconds from the first arrival to 2 % of the energy that follows it within 40 ms. First arrival: the AIC pick
/// between 15 ms before `onset` and the peak, then back to the first run of three samples beyond 3.5 standard
/// deviations of the noise within 6 ms before it. `excerpt` begins with noise only: up to 15 ms before the onset it is
/// taken for that. Nothing when there is too little of it or no energy.
[[nodiscard]] std::optional<double> first_arrival_to_energy_ms(std::span<const float> excerpt, dsp::Position onset,
                                                               dsp::SampleRate rate);

} // namespace retap::validate
