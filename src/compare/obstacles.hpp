// Why takes cannot be judged.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/compared_taps.hpp"
#include "compare/level_evidence.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::compare {

struct Obstacles {
    std::vector<std::string> reasons; ///< each with what to try; empty when both sides can be judged
    /// All that stands in the way is that the taps of one side are soft against those of the other at one setting, and
    /// so stand too little over the noise or were too few to find.
    bool only_softer = false;
};

/// Fit, or unfit for what soft taps bring with them: they lie in the noise, their upper sound is lost in it, and few
/// are found.
[[nodiscard]] bool fit_but_for_softness(const dsp::TakeAnalysis& take);

[[nodiscard]] Obstacles obstacles_to(std::span<const dsp::TakeAnalysis> before,
                                     std::span<const dsp::TakeAnalysis> after, const TapCounts& counts,
                                     const std::optional<LevelEvidence>& level, const CompareSettings& settings);

} // namespace retap::compare
