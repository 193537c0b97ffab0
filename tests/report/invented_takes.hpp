// Invented takes and comparisons for the tests of report and chairside: taps drawn as decaying tones at chosen contact
// times, with every field filled. Nothing here is measured; the report only has to show it.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"

#include <string>
#include <vector>

namespace retap::test {

struct InventedTake {
    std::string file = "before.wav";
    std::size_t taps = 8;
    std::vector<double> contacts_ms = {0.0, 0.12};
    double brightness = 1.0; ///< scales the frequencies of the ringing
    int channels = 1;
    unsigned seed = 7;
};

[[nodiscard]] dsp::TakeAnalysis invented_take(const InventedTake& wanted = {});

/// A comparison with deciding and merely shown measures, worded for this verdict.
[[nodiscard]] compare::Comparison invented_comparison(compare::Verdict verdict);

} // namespace retap::test
