// Which back teeth meet the other way round.
#pragma once

#include "chart/tooth.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// In crossbite the upper tooth stands inside the lower one, and the roles of the cusps turn round with it.
struct Crossbite {
    std::optional<std::vector<Tooth>> teeth; ///< absent: nobody said; empty: said to be none
    bool operator==(const Crossbite&) const = default;

    [[nodiscard]] bool said() const { return teeth.has_value(); }
    /// Whether this tooth or the one of the same name opposite is among them: it takes two to cross.
    [[nodiscard]] bool turns(Tooth tooth) const;
};

/// The premolars and molars of both arches on that side.
[[nodiscard]] std::vector<Tooth> back_teeth(Side side);

/// "none", "right", "left", "both", or teeth as in "16 17" and "14..16" (back teeth alone: front teeth have no cusp
/// roles). Throws NotationError.
[[nodiscard]] Crossbite read_crossbite(std::string_view text, Numbering numbering);
/// "none" or the teeth; empty when nobody said.
[[nodiscard]] std::string write_crossbite(const Crossbite& crossbite, Numbering numbering);

} // namespace retap::chart
