// The two mnemonic rules that schools teach for selective adjustment, spelled out, and the inclines they point at.
#pragma once

#include "chart/marks.hpp"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::chart {

struct Mnemonic {
    std::string_view letters;
    Stage stage; ///< the kind of interference it is taught for
    std::vector<std::pair<char, std::string_view>> meaning;
    std::string_view says;
};

/// BULL for the working side, DUML for protrusive interferences on back teeth.
/// BULL: Spear Education 2015 and two school glossaries; DUML from memory, unconfirmed.
[[nodiscard]] const std::vector<Mnemonic>& mnemonics();

/// Printed wherever they are: schools differ, and what the supervising clinician teaches prevails.
[[nodiscard]] std::string_view mnemonic_note();

/// Whether the mark lies on an incline that is named for its stage. working: inner inclines of upper buccal and lower
/// lingual cusps. non_working: inner inclines of the two supporting cusps, upper palatal and lower buccal. protrusive:
/// distal inclines of upper and mesial inclines of lower back teeth. Centric: never.
[[nodiscard]] bool points_at(Stage stage, const Mark& mark);

/// One sentence that names the side, the incline and the rule; ends in what it defers to. Never says to remove.
[[nodiscard]] std::string sentence_for(const Mark& eccentric, Numbering numbering);

} // namespace retap::chart
