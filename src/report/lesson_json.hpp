// What the lessons found, as JSON. Described in FORMATS.md.
#pragma once

#include "bite/lesson_bite.hpp"
#include "dsp/base/take.hpp"
#include "report/json.hpp"

namespace retap::report {

/// A made take: what happened and what was measured.
struct TruthAndHeard {
    const bite::TruthSummary& truth;
    const dsp::TakeAnalysis& heard;
};

/// Members in the order of TruthSummary: pairs by time, then the spread.
[[nodiscard]] Json truth_json(const bite::TruthSummary& truth);
/// The medians of heard_measures() by name, null where there is none.
[[nodiscard]] Json heard_json(const dsp::TakeAnalysis& heard);
/// retap.lesson-bench/1
[[nodiscard]] Json lesson_bench_json(const bite::LessonBite& bite, const TruthAndHeard& balanced,
                                     const TruthAndHeard& made);

} // namespace retap::report
