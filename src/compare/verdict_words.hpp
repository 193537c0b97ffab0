// What a verdict says to a clinician, and why.
#pragma once

#include "compare/comparison.hpp"
#include "compare/decision.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace retap::compare {

/// The verdict as one sentence.
[[nodiscard]] std::string verdict_sentence(Verdict verdict);

/// What a verdict rests on.
struct Grounds {
    std::size_t taps = 0;    ///< the smaller number on either side
    double snr_db = 0.0;     ///< the worse of the two
    bool deep_enough = true; ///< a light first contact would have stood out of the noise
    bool dull = false;       ///< too little of the upper sound is heard for `alike`
    bool repeated = false;   ///< a side has a take with the pick-up taken off and put back
};

/// Why, naming the kinds of evidence that spoke, and for `unclear` what would settle it.
[[nodiscard]] std::vector<std::string> verdict_reasons(Verdict verdict, const Decision& decision,
                                                       const Grounds& grounds);

/// Why one recording on both sides is not compared.
[[nodiscard]] std::vector<std::string> same_sound_reasons();

/// Why nothing can be said of taps that are soft against those of the other side, and what to try.
[[nodiscard]] std::vector<std::string> softer_reasons(const LevelEvidence& level);

} // namespace retap::compare
