// Where things lie, of which only is known how far each two of them lie apart.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// The places of `count` things, up to a shift common to all, from how far they lie apart: `apart[i * count + j]` is
/// the place of i less that of j, and 0 of one to itself (`count` squared values, asserted).
///
/// Method: all begin at 0; in five rounds each moves to the median of where the others and itself want it. Bears
/// distances that are wrong, as long as most of those of each thing are right; where half of them are wrong it may
/// settle anywhere between.
[[nodiscard]] std::vector<double> consensus_delays(std::span<const double> apart, std::size_t count);

} // namespace retap::dsp
