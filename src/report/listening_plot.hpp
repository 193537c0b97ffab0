// The answers of a listening test, trial by trial.
#pragma once

#include "compare/listening_staircase.hpp"
#include "compare/listening_threshold.hpp"

#include <span>
#include <string>

namespace retap::report {

/// One mark per trial at the height that was played, on a logarithmic scale: a disc for a right answer, a hollow square
/// for a wrong one; a line at the threshold and a band over its interval, as far as they are known. Heights are
/// micrometres above 0 (asserted). Empty without trials.
[[nodiscard]] std::string listening_plot(std::span<const compare::StaircaseTrial> trials,
                                         const compare::Threshold& threshold);

} // namespace retap::report
