// What the taps of both sides say, whether the takes are fit or not.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/compared_taps.hpp"
#include "compare/comparison.hpp"
#include "compare/level_evidence.hpp"

#include <optional>
#include <vector>

namespace retap::compare {

struct Decision {
    std::vector<Evidence> evidence{};
    SummedEvidence sum{};    ///< of all kinds
    Finding finding{};       ///< by the sum
    Finding without_level{}; ///< by the sum of the other kinds
    bool first_heard = true; ///< it is known when the taps begin
    double deepest_db = 0.0; ///< re the peak, down to which sound stands out of the noise on both sides
    LaterContacts contacts{};
    std::optional<LevelEvidence> level{};      ///< at one setting
    std::vector<MeasureComparison> measures{}; ///< of the kinds that decide
};

/// Two taps or more on each side (asserted).
[[nodiscard]] Decision decide(const ComparedTaps& taps, const std::optional<LevelEvidence>& level,
                              const CompareSettings& settings);

} // namespace retap::compare
