#include "chart/mnemonics.hpp"

#include <algorithm>

namespace retap::chart {

const std::vector<Mnemonic>& mnemonics() {
    static const std::vector<Mnemonic> table = {
        {"BULL",
         Stage::working,
         {{'B', "buccal cusp"}, {'U', "of the upper tooth"}, {'L', "lingual cusp"}, {'L', "of the lower tooth"}},
         "On the working side the guiding cusps are looked at: the upper buccal and the lower lingual ones.",
         "It comes from denture teaching, and many call it a guide only for natural teeth. Some notes use its letters "
         "for the non-working side.",
         "Spear Education 2015 and two school glossaries"},
        {"MUDL",
         Stage::non_working,
         {{'M', "mesial incline"}, {'U', "of the upper tooth"}, {'D', "distal incline"}, {'L', "of the lower tooth"}},
         "On the non-working side the mesial inclines of the upper and the distal inclines of the lower supporting "
         "cusps are looked at.",
         "Two supporting cusps meet here. Schools differ on which of them to look at, and many would not touch a "
         "supporting cusp at all.",
         "common practice, no source"},
        {"LUBL",
         Stage::non_working,
         {{'L', "lingual cusp"}, {'U', "of the upper tooth"}, {'B', "buccal cusp"}, {'L', "of the lower tooth"}},
         "On the non-working side two supporting cusps meet: the upper palatal and the lower buccal one.",
         "It names both cusps that carry the centric bite; one school text takes the lower buccal one, others the "
         "incline that has no centric stop, and many would not touch either.",
         "common practice, no source; one school text for the lower buccal cusp"},
        {"DUML",
         Stage::protrusive,
         {{'D', "distal incline"}, {'U', "of the upper tooth"}, {'M', "mesial incline"}, {'L', "of the lower tooth"}},
         "In protrusion the distal inclines of the upper and the mesial inclines of the lower back teeth are looked "
         "at.",
         "Some teach it for back teeth alone, some for all; front teeth guide this movement.",
         "from memory, unconfirmed"},
    };
    return table;
}

std::string_view mnemonic_note() {
    return "Schools differ in these rules and in the letters they use, and some would touch no supporting cusp. The "
           "cusp "
           "that is named counts, not the letters. What your supervising clinician teaches prevails.";
}

bool names(const Mnemonic& mnemonic, const Mark& mark, const Crossbite& crossbite) {
    if (mark.tooth.front() || mark.stage != mnemonic.stage) {
        return false;
    }
    const auto cusp_role = role(mark.tooth, mark.place.spot, crossbite);
    const bool upper = mark.tooth.arch() == Arch::upper;
    if (mnemonic.letters == "BULL") {
        return cusp_role == CuspRole::guiding;
    }
    if (mnemonic.letters == "LUBL") {
        return cusp_role == CuspRole::supporting;
    }
    if (mnemonic.letters == "MUDL") {
        return cusp_role == CuspRole::supporting && mark.place.incline == (upper ? Facing::mesial : Facing::distal);
    }
    return mark.place.incline == (upper ? Facing::distal : Facing::mesial);
}

bool points_at(const Mark& mark, const Crossbite& crossbite) {
    return std::ranges::any_of(mnemonics(), [&](const Mnemonic& rule) { return names(rule, mark, crossbite); });
}

} // namespace retap::chart
