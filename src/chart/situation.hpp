// Where a visit stands: everything the rules about the next step look at.
#pragma once

#include "chart/changes.hpp"
#include "compare/comparison.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::chart {

/// What the patient says about the bite.
enum class Feel { not_asked, comfortable, high, other };
[[nodiscard]] std::string_view word(Feel feel); ///< "not asked", "comfortable", "high", "other"
[[nodiscard]] std::optional<Feel> feel_from(std::string_view wanted);

/// What is known. `now` is the look that is judged: the latest after or recheck; empty while only the baseline exists.
struct Situation {
    std::vector<Tooth> treated;
    LookCharts before;
    bool before_has_sound = false;
    bool restored = false; ///< there is a look after the work
    LookCharts now;
    bool now_has_sound = false;
    std::optional<compare::Verdict> sound; ///< now against before, when both were recorded
    std::optional<bool> numb;
    Feel feel = Feel::not_asked;

    /// The checks a look still lacks: "the film holds", "the centric marks", "the sound".
    [[nodiscard]] std::vector<std::string> missing_before() const;
    [[nodiscard]] std::vector<std::string> missing_now() const;
};

/// The situation with what follows from it, worked out once.
struct Assessment {
    explicit Assessment(Situation of);

    Situation situation;
    Changes changes;
    std::optional<HoldSpread> baseline_spread;
    bool centric_settled = false;      ///< film and centric marks are as before
    bool all_equal = false;            ///< and so is the sound
    bool looks_high = false;           ///< holds lost elsewhere, or a mark on the restoration stands out
    bool film_or_marks_differ = false; ///< something was compared and differs
};

} // namespace retap::chart
