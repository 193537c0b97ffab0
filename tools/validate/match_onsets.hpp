// Found onsets against true ones.
#pragma once

#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace retap::validate {

struct OnsetMatch {
    std::vector<std::pair<std::size_t, std::size_t>> pairs{}; ///< index of the true onset, index of the found one
    std::size_t missed = 0;
    std::size_t extra = 0;
};

/// Pairs each true onset with at most one found onset no further than `reach_s` away; both ascending (asserted). The
/// earliest that still fits is taken for each, which pairs off as many as can be.
[[nodiscard]] OnsetMatch match_onsets(std::span<const double> truth_s, std::span<const double> found_s, double reach_s);

} // namespace retap::validate
