// The questions of a chart lesson, with their right answers as the rules have them.
#pragma once

#include "lesson/chart_lesson.hpp"

#include <cstdint>
#include <vector>

namespace retap::lesson {

/// For each mark on a back tooth: the role of the cusp, and whether it carries the bite or which side it slid on. Last,
/// what is usually next. Film and centric marks before the work belong to what the rules look at.
[[nodiscard]] std::vector<ChartQuestion> chart_questions(const chart::Situation& situation, chart::Numbering numbering,
                                                         std::uint64_t seed);

} // namespace retap::lesson
