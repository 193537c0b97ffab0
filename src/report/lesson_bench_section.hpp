// The bench of the lessons: what really happened in a bite beside what was measured from its sound alone.
#pragma once

#include "chart/tooth.hpp"
#include "report/lesson_json.hpp"

#include <string>

namespace retap::report {

struct BenchView {
    std::string bite;    ///< in words
    std::string physics; ///< height over speed, a line for each high spot; may be empty
    std::size_t taps = 0;
    chart::Numbering numbering = chart::Numbering::iso;
    TruthAndHeard balanced;
    TruthAndHeard made;
};

/// Contact times, measures and plots, without the sounds. Headings start at level 2.
[[nodiscard]] std::string lesson_bench_section(const BenchView& view);

} // namespace retap::report
