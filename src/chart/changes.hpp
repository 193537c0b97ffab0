// What changed in the mouth between two looks.
#pragma once

#include "chart/holds.hpp"
#include "chart/marks.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::chart {

/// The charts of one look; what was not charted is absent.
struct LookCharts {
    std::optional<HoldChart> holds;
    std::optional<MarkChart> marks;
};

/// What carries the centric bite on one treated tooth. not_marked: no centric paper was used. not_said: there are marks
/// that may or may not be on the restoration, and none that is said to be there is a stop. incline_only: on inclines
/// alone. guiding_only: on a guiding cusp, with or without inclines, and on nothing that carries the bite.
enum class Support { not_marked, not_said, none, incline_only, guiding_only, stop };

struct TreatedTooth {
    Tooth tooth;
    Support before = Support::not_marked;
    Support after = Support::not_marked; ///< on the restoration
    bool stop_beside = false;            ///< the tooth keeps a stop beside the restoration
    bool heavier = false;                ///< a centric mark on the restoration stands out where none stood out before
};

/// Everything that differs. Lists of holds are empty unless both looks have a hold chart, and likewise for marks.
struct Changes {
    bool holds_compared = false;
    bool centric_compared = false;

    std::vector<TeethPair> holds_lost;     ///< hold before, slide or open now
    std::vector<TeethPair> holds_gained;   ///< slide or open before, hold now
    std::vector<TeethPair> holds_untested; ///< tested before, not now
    std::vector<TeethPair> holds_first;    ///< tested now, not before: nothing to compare with

    /// Centric marks off the restoration: on other teeth, and beside it on the treated ones. A restoration is a new
    /// surface that may take a contact the tooth did not have; what its marks carry is judged in TreatedTooth instead.
    std::vector<Mark> marks_new;
    /// On teeth that were not treated.
    std::vector<Mark> marks_gone;
    /// Marks that a treated tooth had, where it has none of any kind now. The mark it had is the mark it should have.
    std::vector<Mark> treated_marks_gone;
    /// Centric marks anywhere that stand out from the rest now and did not before.
    std::vector<Mark> marks_heavier;

    std::vector<TreatedTooth> treated;
    /// Marks of any stage on treated teeth after the work that are not said to be on the restoration or beside it. An
    /// eccentric mark goes with the centric one at its place.
    std::vector<Mark> place_not_said;
    /// Sides opposite a treated side on which a hold or a centric mark changed. Empty when both sides were treated.
    std::optional<Side> other_side_changed;

    /// Holds lost on pairs without a treated tooth, and on pairs with one.
    std::vector<TeethPair> holds_lost_elsewhere;
    std::vector<TeethPair> holds_lost_on_treated;

    /// Both looks charted, nothing lost, gained or left untested.
    [[nodiscard]] bool holds_equal() const;
    /// Both looks marked in centric, nothing new, gone or heavier and every mark's place said; each treated tooth has a
    /// stop (on the restoration, or beside it as before) unless it had none before.
    [[nodiscard]] bool centric_equal() const;
};

[[nodiscard]] Changes what_changed(const LookCharts& before, const LookCharts& now, const std::vector<Tooth>& treated,
                                   const Crossbite& crossbite = {});

/// Each change as a sentence, teeth in the clinic's numbering; one sentence that says so when there is none.
[[nodiscard]] std::vector<std::string> sentences(const Changes& changes, Numbering numbering);

} // namespace retap::chart
