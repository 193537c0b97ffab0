#include "chart/mnemonics.hpp"

namespace retap::chart {

const std::vector<Mnemonic>& mnemonics() {
    static const std::vector<Mnemonic> table = {
        {"BULL",
         Stage::working,
         {{'B', "buccal cusp"}, {'U', "of the upper tooth"}, {'L', "lingual cusp"}, {'L', "of the lower tooth"}},
         "On the working side the guiding cusps are looked at: the inner inclines of the upper buccal and the lower "
         "lingual cusps."},
        {"DUML",
         Stage::protrusive,
         {{'D', "distal incline"}, {'U', "of the upper tooth"}, {'M', "mesial incline"}, {'L', "of the lower tooth"}},
         "In protrusion the distal inclines of the upper and the mesial inclines of the lower back teeth are looked "
         "at."},
    };
    return table;
}

std::string_view mnemonic_note() {
    return "Schools differ in these rules and in the letters they use; BULL comes from denture teaching and many call "
           "it a "
           "guide only for natural teeth. What your supervising clinician teaches prevails.";
}

bool points_at(Stage stage, const Mark& mark) {
    if (!mark.place.incline || mark.tooth.front()) {
        return false;
    }
    const bool inner = *mark.place.incline == Facing::inner;
    const auto cusp_role = role(mark.tooth, mark.place.spot);
    switch (stage) {
    case Stage::working:
        return inner && cusp_role == CuspRole::guiding;
    case Stage::non_working:
        return inner && cusp_role == CuspRole::supporting;
    case Stage::protrusive:
        return *mark.place.incline == (mark.tooth.arch() == Arch::upper ? Facing::distal : Facing::mesial);
    case Stage::centric:
        break;
    }
    return false;
}

namespace {

std::string rule_for(const Mark& mark) {
    const bool named = points_at(mark.stage, mark);
    switch (mark.stage) {
    case Stage::working:
        return named ? "BULL names this incline (buccal of the upper, lingual of the lower)"
                     : "BULL does not name this incline; look at the one it meets";
    case Stage::protrusive:
        return named ? "DUML names this incline (distal of the upper, mesial of the lower)"
                     : "DUML does not name this incline; look at the one it meets";
    case Stage::non_working:
        return named ? "two supporting cusps meet here and carry the centric bite, and schools differ on which to touch"
                     : "no mnemonic names this incline";
    case Stage::centric:
        break;
    }
    return "centric marks are settled first";
}

} // namespace

std::string sentence_for(const Mark& eccentric, Numbering numbering) {
    const std::string stage(word(eccentric.stage));
    const std::string side = eccentric.stage == Stage::protrusive ? "Protrusive" : "On the " + stage + " side";
    return side + ", " + plain_name(eccentric, numbering) + ": " + rule_for(eccentric) + ".";
}

} // namespace retap::chart
