// What a comparison says to a clinician.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/comparison.hpp"

#include <string>
#include <vector>

namespace retap::compare {

/// One sentence on how the contacts land.
[[nodiscard]] std::string plain_landing(Finding finding);

/// One sentence on how long before the main impact the first contact is heard.
[[nodiscard]] std::string plain_first_sound(const MeasureComparison& measure);

/// One sentence on a measure that is shown and does not decide.
[[nodiscard]] std::string plain_measure(const MeasureComparison& measure);

/// The verdict as one sentence.
[[nodiscard]] std::string verdict_sentence(Verdict verdict);

/// Why, and for `unclear` what would settle it. `deep_enough`: a light first contact would have stood out of the noise.
/// `taps` is the smaller number of taps on either side.
[[nodiscard]] std::vector<std::string> verdict_reasons(Verdict verdict, bool deep_enough, std::size_t taps,
                                                       double snr_db);

} // namespace retap::compare
