// What really happened beside what was measured, as text.
#pragma once

#include "bite/lesson_bite.hpp"
#include "chart/tooth.hpp"
#include "dsp/base/take.hpp"

#include <string>

namespace retap::commands {

/// When each pair met, first to last.
[[nodiscard]] std::string truth_text(const bite::TruthSummary& truth, int taps, chart::Numbering numbering);
/// The measures of one take, or of two beside each other with the change from the first to the second.
[[nodiscard]] std::string heard_text(const dsp::TakeAnalysis& heard);
[[nodiscard]] std::string heard_text(const dsp::TakeAnalysis& balanced, const dsp::TakeAnalysis& heard);
/// Words broken at spaces so that no line is longer than 80 characters, each behind `indent`.
[[nodiscard]] std::string wrapped(const std::string& words, const std::string& indent = "");

} // namespace retap::commands
