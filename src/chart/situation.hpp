// Where a visit stands: everything the rules about the next step look at.
#pragma once

#include "chart/changes.hpp"
#include "chart/sound_says.hpp"
#include "chart/warning_signs.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::chart {

/// What the patient says about the bite.
enum class Feel { not_asked, comfortable, high, other };
[[nodiscard]] std::string_view word(Feel feel); ///< "not asked", "comfortable", "high", "other"
[[nodiscard]] std::optional<Feel> feel_from(std::string_view wanted);

/// What was decided at a look.
enum class Action { adjust, leave, wait, finish, other };
[[nodiscard]] std::string_view word(Action action);
[[nodiscard]] std::optional<Action> action_from(std::string_view word);

/// What is known. `now` is the look that is judged: the latest after or recheck; empty while only the baseline exists.
struct Situation {
    std::vector<Tooth> treated;
    LookCharts before;
    bool before_has_sound = false;
    bool restored = false; ///< there is a look after the work
    LookCharts now;
    bool now_has_sound = false;
    std::optional<SoundSays> sound; ///< now against before, when both were recorded
    std::optional<bool> numb;       ///< at this look, or still from an earlier one of the same day
    Feel feel = Feel::not_asked;
    Crossbite crossbite{};
    std::optional<Action> decided{}; ///< the latest at this look
    std::vector<Warning> warnings{};
    bool eccentric_before_this_look = false; ///< an earlier look of the visit marked the movements

    /// The checks a look still lacks: "the film holds", "the centric marks", "the sound".
    [[nodiscard]] std::vector<std::string> missing_before() const;
    [[nodiscard]] std::vector<std::string> missing_now() const;
};

/// The situation with what follows from it, worked out once.
struct Assessment {
    explicit Assessment(Situation of);

    Situation situation;
    Changes changes;
    /// Whether the tooth is among the treated ones.
    [[nodiscard]] bool treated(Tooth tooth) const;
    std::optional<HoldSpread> baseline_spread;
    std::vector<Tooth> baseline_left;  ///< upper teeth that film was not tried at before the work
    bool centric_settled = false;      ///< film and centric marks are as before
    bool all_equal = false;            ///< and so is the sound
    bool looks_high = false;           ///< holds lost elsewhere, or a mark on the restoration stands out
    bool looks_light = false;          ///< its hold or its contact is gone, and nothing speaks for high
    bool film_or_marks_differ = false; ///< something was compared and differs
    std::vector<Mark> maybe_crossbite; ///< centric marks on guiding cusps of teeth without one on a supporting cusp
    /// Eccentric-only marks of `now` that ask for a look, and those on untreated teeth that were there before the work.
    std::vector<Mark> eccentric_open;
    std::vector<Mark> eccentric_as_before;
};

} // namespace retap::chart
