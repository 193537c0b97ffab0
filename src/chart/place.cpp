#include "chart/place.hpp"

#include <algorithm>
#include <array>

namespace retap::chart {

namespace {

enum class Row { buccal, lingual, neither };

struct SpotRow {
    Spot spot;
    std::string_view code;       ///< on lower teeth
    std::string_view upper_code; ///< on upper teeth
    std::string_view name;
    std::string_view upper_name;
    bool inclines;
    Row row; ///< which row of cusps of a back tooth it belongs to
};

constexpr std::array<SpotRow, 15> spot_rows = {{
    {Spot::mesiobuccal_cusp, "MB", "MB", "mesiobuccal cusp", "mesiobuccal cusp", true, Row::buccal},
    {Spot::distobuccal_cusp, "DB", "DB", "distobuccal cusp", "distobuccal cusp", true, Row::buccal},
    {Spot::mesiolingual_cusp, "ML", "MP", "mesiolingual cusp", "mesiopalatal cusp", true, Row::lingual},
    {Spot::distolingual_cusp, "DL", "DP", "distolingual cusp", "distopalatal cusp", true, Row::lingual},
    {Spot::distal_cusp, "D", "D", "distal cusp", "distal cusp", true, Row::buccal},
    {Spot::buccal_cusp, "B", "B", "buccal cusp", "buccal cusp", true, Row::buccal},
    {Spot::lingual_cusp, "L", "P", "lingual cusp", "palatal cusp", true, Row::lingual},
    {Spot::canine_cusp, "C", "C", "cusp tip", "cusp tip", true, Row::neither},
    {Spot::incisal_edge, "E", "E", "incisal edge", "incisal edge", true, Row::neither},
    {Spot::central_fossa, "CF", "CF", "central fossa", "central fossa", false, Row::neither},
    {Spot::mesial_fossa, "MF", "MF", "mesial fossa", "mesial fossa", false, Row::neither},
    {Spot::distal_fossa, "DF", "DF", "distal fossa", "distal fossa", false, Row::neither},
    {Spot::lingual_fossa, "LF", "PF", "lingual fossa", "palatal fossa", false, Row::neither},
    {Spot::mesial_ridge, "MMR", "MMR", "mesial marginal ridge", "mesial marginal ridge", false, Row::neither},
    {Spot::distal_ridge, "DMR", "DMR", "distal marginal ridge", "distal marginal ridge", false, Row::neither},
}};

const SpotRow& row_of(Spot spot) {
    return *std::find_if(spot_rows.begin(), spot_rows.end(), [spot](const SpotRow& row) { return row.spot == spot; });
}

bool is_upper(Tooth tooth) {
    return tooth.arch() == Arch::upper;
}

bool has_premolar_spot(Tooth tooth, Spot spot) {
    switch (spot) {
    case Spot::buccal_cusp:
    case Spot::lingual_cusp:
    case Spot::mesial_fossa:
    case Spot::distal_fossa:
        return true;
    case Spot::mesiolingual_cusp:
    case Spot::distolingual_cusp:
    case Spot::central_fossa: // the three-cusped form
        return !is_upper(tooth) && tooth.place() == 5;
    default:
        return false;
    }
}

bool has_molar_spot(Tooth tooth, Spot spot) {
    switch (spot) {
    case Spot::mesiobuccal_cusp:
    case Spot::distobuccal_cusp:
    case Spot::mesiolingual_cusp:
    case Spot::distolingual_cusp:
    case Spot::central_fossa:
    case Spot::mesial_fossa:
    case Spot::distal_fossa:
        return true;
    case Spot::distal_cusp: // usual on the first, a variation on the others
        return !is_upper(tooth);
    default:
        return false;
    }
}

} // namespace

std::string_view word(Facing facing) {
    switch (facing) {
    case Facing::inner:
        return "inner";
    case Facing::outer:
        return "outer";
    case Facing::mesial:
        return "mesial";
    case Facing::distal:
        break;
    }
    return "distal";
}

bool has_spot(Tooth tooth, Spot spot) {
    if (spot == Spot::mesial_ridge || spot == Spot::distal_ridge) {
        return true;
    }
    switch (tooth.kind()) {
    case ToothKind::incisor:
        return spot == Spot::incisal_edge || spot == Spot::lingual_fossa;
    case ToothKind::canine:
        return spot == Spot::canine_cusp || spot == Spot::lingual_fossa;
    case ToothKind::premolar:
        return has_premolar_spot(tooth, spot);
    case ToothKind::molar:
        break;
    }
    return has_molar_spot(tooth, spot);
}

std::vector<Spot> spots_of(Tooth tooth) {
    std::vector<Spot> spots;
    for (const SpotRow& row : spot_rows) {
        if (has_spot(tooth, row.spot)) {
            spots.push_back(row.spot);
        }
    }
    return spots;
}

bool has_inclines(Spot spot) {
    return row_of(spot).inclines;
}

std::string code(Tooth tooth, Spot spot) {
    return std::string(is_upper(tooth) ? row_of(spot).upper_code : row_of(spot).code);
}

std::string code(Tooth tooth, const Place& place) {
    std::string spot = code(tooth, place.spot);
    if (!place.incline) {
        return spot;
    }
    switch (*place.incline) {
    case Facing::inner:
        return spot + "/in";
    case Facing::outer:
        return spot + "/out";
    case Facing::mesial:
        return spot + "/mes";
    case Facing::distal:
        break;
    }
    return spot + "/dis";
}

std::optional<Spot> spot_from(Tooth tooth, std::string_view code) {
    for (const SpotRow& row : spot_rows) {
        if (has_spot(tooth, row.spot) && (code == row.code || (is_upper(tooth) && code == row.upper_code))) {
            return row.spot;
        }
    }
    return std::nullopt;
}

std::string plain_name(Tooth tooth, const Place& place) {
    const std::string spot(is_upper(tooth) ? row_of(place.spot).upper_name : row_of(place.spot).name);
    return place.incline ? std::string(word(*place.incline)) + " incline of the " + spot : spot;
}

std::string_view word(CuspRole role) {
    return role == CuspRole::supporting ? "supporting" : "guiding";
}

std::optional<CuspRole> role(Tooth tooth, Spot spot, const Crossbite& crossbite) {
    const Row row = row_of(spot).row;
    if (row == Row::neither || tooth.front()) {
        return std::nullopt;
    }
    const bool supports = ((row == Row::lingual) == is_upper(tooth)) != crossbite.turns(tooth);
    return supports ? CuspRole::supporting : CuspRole::guiding;
}

} // namespace retap::chart
