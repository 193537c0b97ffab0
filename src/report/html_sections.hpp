// The parts of the one view: the report puts them into a file, the chairside page shows the same markup. They carry no
// styles and no scripts of their own (the page's content-security policy allows none).
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"

#include <string>

namespace retap::report {

/// Where a browser gets the sounds from: data URIs in a file, paths on the local server in the page. Empty: no sound.
struct SoundLinks {
    std::string before;
    std::string after;
};

/// Verdict, likeness, listening, plots, measures and both takes. Headings start at level 2.
[[nodiscard]] std::string comparison_section(const compare::Comparison& comparison, const SoundLinks& sounds);

/// One take by itself: fitness in words, plots, what was left out and why. Headings start at level 2.
[[nodiscard]] std::string take_section(const dsp::TakeAnalysis& take, const std::string& sound_link);

/// Whether a take can be relied on, as a sentence ("Good take: 8 taps." / "Not fit: ...").
[[nodiscard]] std::string fitness_sentence(const dsp::TakeAnalysis& take);

/// What the results mean and do not mean, for every report.
[[nodiscard]] std::string cautions_section();

/// The verdict, its reasons and the likeness: the head of comparison_section by itself.
[[nodiscard]] std::string verdict_block(const compare::Comparison& comparison);

} // namespace retap::report
