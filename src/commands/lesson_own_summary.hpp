// Repeatability of several takes of one bite.
#pragma once

#include "compare/statistics.hpp"
#include "dsp/take.hpp"

#include <span>
#include <string>
#include <vector>

namespace retap::commands {

struct OwnMeasure {
    std::string name;
    std::string label;
    std::string unit;
    compare::Repeatability between_taps;  ///< of one tap, pooled over the takes
    compare::Repeatability between_takes; ///< of the medians of the takes
};

/// Bland and Altman 1996 (BMJ 313:744) for each measure that every take has.
[[nodiscard]] std::vector<OwnMeasure> own_repeatability(std::span<const dsp::TakeAnalysis> takes);

} // namespace retap::commands
