// Where two checks of one look cannot both be right.
#pragma once

#include "chart/step.hpp"
#include "chart/tooth.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

struct Assessment;

struct Contradiction {
    std::string_view id;
    std::string sentence;
    std::string_view first; ///< what to look at again first, as a sentence
    Step step = Step::none; ///< the same for a program
};

/// Sound against marks and film, film against marks, and film against film. Each may be right for itself; no conclusion
/// is drawn from two that contradict each other before one of them was looked at again.
[[nodiscard]] std::vector<Contradiction> contradictions(const Assessment& assessment, Numbering numbering);

} // namespace retap::chart
