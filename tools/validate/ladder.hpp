// How the likeness climbs while one filling is brought down.
#pragma once

#include "validate/pairs.hpp"

#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

namespace retap::validate {

/// Likenesses of one condition in one family, sorted.
[[nodiscard]] std::vector<double> likenesses(std::span<const PairResult> pairs, const Family& family,
                                             std::string_view condition);

/// Value below which that part of sorted values lies, straight between them; NaN without any.
[[nodiscard]] double quantile(std::span<const double> sorted, double part);

/// Patients in whom the likeness rises at each step of the same tooth from 100 to 50, 25 and 0 um high, of those with
/// all four pairs. The first of the unchanged pairs counts.
[[nodiscard]] Share climbs(std::span<const PairResult> pairs, const Family& family);

/// How far the middle onset of an unchanged bite moves from the take before to the take after, beyond what the true one
/// does; absolute, in milliseconds, sorted.
[[nodiscard]] std::vector<double> onset_shifts_ms(std::span<const PairResult> pairs, const Family& family);

} // namespace retap::validate
