// Places on a tooth where paper can leave a mark.
#pragma once

#include "chart/crossbite.hpp"
#include "chart/tooth.hpp"

#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// What can be named on a crown. The inner cusps are called palatal on upper teeth.
enum class Spot {
    mesiobuccal_cusp,
    distobuccal_cusp,
    mesiolingual_cusp,
    distolingual_cusp,
    distal_cusp,
    buccal_cusp,
    lingual_cusp,
    canine_cusp,
    incisal_edge,
    central_fossa,
    mesial_fossa,
    distal_fossa,
    lingual_fossa,
    mesial_ridge,
    distal_ridge,
};

/// The slope of a cusp, a canine tip or an incisal edge: inner faces the middle of the tooth (the tongue on front
/// teeth), outer faces away from it.
enum class Facing { inner, outer, mesial, distal };
[[nodiscard]] std::string_view word(Facing facing);

/// A spot, or one of the inclines of a cusp or edge when `incline` is given.
struct Place {
    Spot spot;
    std::optional<Facing> incline;
    auto operator<=>(const Place&) const = default;
};

/// Whether the tooth has it in the usual anatomy, with the usual variations (two or three cusps on a lower second
/// premolar, three or four on an upper molar, four or five on a lower one).
[[nodiscard]] bool has_spot(Tooth tooth, Spot spot);
[[nodiscard]] std::vector<Spot> spots_of(Tooth tooth);
/// Cusps, canine tips and incisal edges have inclines.
[[nodiscard]] bool has_inclines(Spot spot);

/// "MB", "CF", "MMR"; inner cusps with P on upper teeth and L on lower ones. One code names one spot of a tooth.
[[nodiscard]] std::string code(Tooth tooth, Spot spot);
[[nodiscard]] std::string code(Tooth tooth, const Place& place); ///< "MB/in"
/// Upper case expected; L is understood for P on upper teeth. Nothing when no such spot is on this tooth.
[[nodiscard]] std::optional<Spot> spot_from(Tooth tooth, std::string_view code);
[[nodiscard]] std::string plain_name(Tooth tooth, const Place& place); ///< "inner incline of the mesiobuccal cusp"

/// supporting (functional, centric): the upper palatal and the lower buccal cusps, which carry the bite. guiding: the
/// upper buccal and the lower lingual ones (two school texts, 2015 and undated). The other way round in crossbite (from
/// memory, unconfirmed). Nothing for front teeth and for spots that are no cusps.
enum class CuspRole { supporting, guiding };
[[nodiscard]] std::optional<CuspRole> role(Tooth tooth, Spot spot, const Crossbite& crossbite = {});
[[nodiscard]] std::string_view word(CuspRole role); ///< "supporting", "guiding"

} // namespace retap::chart
