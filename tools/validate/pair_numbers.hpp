// Everything that is known of each compared pair, one row each.
#pragma once

#include "validate/pairs.hpp"

#include <span>
#include <string>

namespace retap::validate {

/// CSV. Family, mechanics, sound, patient, condition, height; verdict, likeness, low, high; for each measure that a
/// comparison shows NAME_before, _after, _difference, _low and _high, in its unit; the rivals' distances; fitness and
/// level over the noise of the two takes, and by how much their middle onsets are off; and, named true_, what TakeTruth
/// has of them, with true_level_drop_db: how much softer the clean sound of the second take is, seat and effort
/// included.
[[nodiscard]] std::string pairs_csv(std::span<const PairResult> pairs);

} // namespace retap::validate
