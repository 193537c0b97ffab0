// What Retap measured in a take of a lesson, in a form that stands beside the truth.
#pragma once

#include "dsp/base/take.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// Median of one measure over the usable taps; nothing when no usable tap has it.
struct HeardMeasure {
    std::string name; ///< as in JSON
    std::string label;
    std::string unit;
    std::optional<double> middle;
};

/// Spread, peak, duration, rise, centre of the spectrum and, of two channels, the lead and excess of the left side.
/// Always the same order for the same number of channels. The spread is absent where fewer than half of the usable taps
/// showed more than one contact: then the contacts could not be told apart, which is not a spread of 0.
[[nodiscard]] std::vector<HeardMeasure> heard_measures(const dsp::TakeAnalysis& take);

/// Whether heard_measures() has a spread for it.
[[nodiscard]] bool has_spread(const dsp::TakeAnalysis& take);

} // namespace retap::report
