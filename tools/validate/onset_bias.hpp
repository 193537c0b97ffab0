// Whether the onsets of a take all come too early or too late by the same.
#pragma once

#include "validate/simulated.hpp"

#include <optional>

namespace retap::validate {

/// Middle of found minus true onset over the usable taps of a take, in milliseconds; true is when the first contact
/// reaches the pick-up. A found tap belongs to a true one within 5 ms. Nothing when none does.
[[nodiscard]] std::optional<double> onset_bias_ms(const HeardTake& take);

} // namespace retap::validate
