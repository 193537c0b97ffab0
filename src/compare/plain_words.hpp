// What a comparison says to a clinician.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/comparison.hpp"

#include <string>
#include <vector>

namespace retap::compare {

/// One sentence on how the contacts land.
[[nodiscard]] std::string plain_landing(Finding finding);

/// The same when it differs, but nothing lands earlier or later.
[[nodiscard]] std::string plain_recoloured();

/// One sentence on how long before the main impact the first contact is heard.
[[nodiscard]] std::string plain_first_sound(const MeasureComparison& measure);

/// One sentence on a measure that is shown and does not decide.
[[nodiscard]] std::string plain_measure(const MeasureComparison& measure);

/// The verdict as one sentence.
[[nodiscard]] std::string verdict_sentence(Verdict verdict);

/// What a verdict rests on.
struct Grounds {
    std::size_t taps = 0;    ///< the smaller number on either side
    double snr_db = 0.0;     ///< the worse of the two
    bool deep_enough = true; ///< a light first contact would have stood out of the noise
    bool recoloured = false; ///< the taps sound different and begin as they did
    bool dull = false;       ///< too little of the upper sound is heard for `alike`
    bool repeated = false;   ///< a side has a take with the pick-up taken off and put back
};

/// Why, and for `unclear` what would settle it.
[[nodiscard]] std::vector<std::string> verdict_reasons(Verdict verdict, const Grounds& grounds);

} // namespace retap::compare
