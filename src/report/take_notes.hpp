// What is said about one take in words: fitness, how it was recorded, what was left out and why.
#pragma once

#include "dsp/base/take.hpp"

#include <string>

namespace retap::report {

[[nodiscard]] std::string take_notes(const dsp::TakeAnalysis& take);

} // namespace retap::report
