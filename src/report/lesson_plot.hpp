// When the teeth met in several bites, drawn below each other.
#pragma once

#include "bite/lesson_bite.hpp"

#include <string>
#include <vector>

namespace retap::report {

struct NamedTruth {
    std::string name;
    bite::TruthSummary truth;
};

/// One row per bite with a disc where each pair of teeth first met (medians over the taps) and the spread in
/// words. Meetings later than 20 ms are drawn at the edge. Empty without rows.
[[nodiscard]] std::string lesson_plot(const std::vector<NamedTruth>& rows);

} // namespace retap::report
