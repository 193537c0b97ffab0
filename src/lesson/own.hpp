// Repeatability of several takes of one bite.
#pragma once

#include "compare/statistics.hpp"
#include "dsp/base/take.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace retap::lesson {

struct OwnMeasure {
    std::string name;
    std::string label;
    std::string unit;
    compare::Repeatability between_taps;  ///< of one tap, pooled over the takes
    compare::Repeatability between_takes; ///< of the medians of the takes
};

/// Bland and Altman 1996 (BMJ 313:744) for each measure that every take has.
[[nodiscard]] std::vector<OwnMeasure> own_repeatability(std::span<const dsp::TakeAnalysis> takes);

/// What the numbers mean, a sentence or two each, for so many takes.
[[nodiscard]] std::vector<std::string> own_words(std::size_t takes);

/// Table and words as markup, a section with a heading of level 2. Two takes or more (asserted).
[[nodiscard]] std::string own_section(std::span<const dsp::TakeAnalysis> takes);

} // namespace retap::lesson
