// What one measure or kind of evidence says to a clinician.
#pragma once

#include "compare/comparison.hpp"
#include "compare/later_contacts.hpp"
#include "compare/level_evidence.hpp"

#include <string>

namespace retap::compare {

/// One sentence on how the contacts land.
[[nodiscard]] std::string plain_landing(Finding finding);

/// One sentence on when the sound of the taps comes.
[[nodiscard]] std::string plain_energy_profile(Finding finding);

/// One sentence on contacts that came, went or moved: later, single, drawn out, closer together.
[[nodiscard]] std::string plain_later_contacts(const LaterContacts& contacts);

/// One sentence on taps that are softer or louder than before at one setting.
[[nodiscard]] std::string plain_level(const LevelEvidence& level);

/// One sentence on how long before the main impact the first contact is heard.
[[nodiscard]] std::string plain_first_sound(const MeasureComparison& measure);

/// One sentence on a measure that is shown and does not decide.
[[nodiscard]] std::string plain_measure(const MeasureComparison& measure);

} // namespace retap::compare
