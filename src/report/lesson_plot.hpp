// When the teeth met in several bites, drawn below each other.
#pragma once

#include "bite/lesson_bite.hpp"
#include "dsp/base/take.hpp"
#include "report/svg_frame.hpp"

#include <string>
#include <vector>

namespace retap::report {

/// One bite. `heard`, when given, must live as long as the call.
struct NamedTruth {
    std::string name;
    bite::TruthSummary truth;
    const dsp::TakeAnalysis* heard = nullptr;
    Side side = Side::before;
};

/// One row per bite with a disc where each pair of teeth first met (medians over the taps) and the spread in
/// words; below it, when something was heard, a row with a bar for how long the taps took to rise (the middle of the
/// usable ones) and a hollow mark for each contact that was told apart in one of them. What comes later than 20 ms is
/// drawn at the edge. Empty without rows.
[[nodiscard]] std::string lesson_plot(const std::vector<NamedTruth>& rows);

} // namespace retap::report
