// A comparison as text for a person at a terminal.
#pragma once

#include "compare/comparison.hpp"

#include <string>

namespace retap::commands {

/// All that compare says: verdict, likeness, why, measures with their sentences, fitness of both sides, cautions.
[[nodiscard]] std::string comparison_text(const compare::Comparison& comparison);

} // namespace retap::commands
