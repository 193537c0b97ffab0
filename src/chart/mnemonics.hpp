// The letter rules that schools teach for selective adjustment, spelled out, and the places they point at.
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
    std::string_view disputed; ///< where schools differ
    std::string_view source;
};

/// BULL and DUML, and for the non-working side MUDL and LUBL, which schools use side by side or not at all.
[[nodiscard]] const std::vector<Mnemonic>& mnemonics();

/// Printed wherever they are: schools differ, and what the supervising clinician teaches prevails.
[[nodiscard]] std::string_view mnemonic_note();

/// Whether the letter rule names the place of this mark. BULL and LUBL name cusps, whatever slope of them is marked: in
/// crossbite the roles turn round, and what is named is the cusp with the role. DUML and MUDL name slopes. A fossa or a
/// ridge is named by none: what meets it is a cusp of the other tooth.
[[nodiscard]] bool names(const Mnemonic& mnemonic, const Mark& mark, const Crossbite& crossbite = {});

/// Whether any rule for the stage of the mark names its place. Centric: never.
[[nodiscard]] bool points_at(const Mark& mark, const Crossbite& crossbite = {});

} // namespace retap::chart
