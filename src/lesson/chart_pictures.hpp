// The drawings of a chart lesson, and the lesson and its result as JSON.
#pragma once

#include "lesson/chart_lesson.hpp"
#include "report/json.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::lesson {

/// Before the work, then each picture of the lesson: the teeth in two rows, and each marked tooth opened beside them
/// with the tips of its cusps, so that a tip and an incline can be told apart. Markup without styles of its own.
[[nodiscard]] std::string chart_drawings(const ChartLesson& lesson);
/// The drawings with words and questions as a self-contained page, for a learner at the command line.
[[nodiscard]] std::string chart_lesson_page(const ChartLesson& lesson, const std::string& program);

/// retap.lesson-chart/1. Before it is answered `result` is null, and nothing tells what is right.
[[nodiscard]] report::Json chart_lesson_json(const ChartLesson& lesson, const ChartResult* result,
                                             const std::vector<ChartAgreement>* with_second);
[[nodiscard]] report::Json chart_result_json(const ChartResult& result, const std::vector<ChartAgreement>* with_second);

} // namespace retap::lesson
