// A take as text for a person at a terminal.
#pragma once

#include "dsp/base/take.hpp"

#include <string>

namespace retap::commands {

/// "6.3 s, 48000 Hz, one channel"
[[nodiscard]] std::string recording_text(const dsp::TakeAnalysis& take);
/// Fit or not, why, and what the taps stand out of: one to a few lines.
[[nodiscard]] std::string fitness_text(const dsp::TakeAnalysis& take);
/// All that inspect says.
[[nodiscard]] std::string take_text(const dsp::TakeAnalysis& take);

} // namespace retap::commands
