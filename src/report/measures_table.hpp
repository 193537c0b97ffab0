// The table of measures, sentence first.
#pragma once

#include "compare/comparison.hpp"

#include <string>
#include <vector>

namespace retap::report {

/// Deciding measures first, then those that are only shown. Roles are written out because the style lays the table out
/// as cards on narrow screens, and some browsers drop a table's meaning then. Empty without measures.
[[nodiscard]] std::string measures_table(const std::vector<compare::MeasureComparison>& measures);

} // namespace retap::report
