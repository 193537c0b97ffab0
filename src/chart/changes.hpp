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

/// What carries the centric bite on one treated tooth. not_marked: no centric paper was used.
enum class Support { not_marked, none, incline_only, stop };

struct TreatedTooth {
    Tooth tooth;
    Support before = Support::not_marked;
    Support after = Support::not_marked; ///< on the restoration: marks carrying * only
    bool heavier = false; ///< a centric mark on the restoration stands out after and none there did before
};

/// Everything that differs. Lists of holds are empty unless both looks have a hold chart, and likewise for marks.
struct Changes {
    bool holds_compared = false;
    bool centric_compared = false;

    std::vector<TeethPair> holds_lost;     ///< hold before, slide or open now
    std::vector<TeethPair> holds_gained;   ///< slide or open before, hold now
    std::vector<TeethPair> holds_untested; ///< tested before, not now
    std::vector<TeethPair> holds_first;    ///< tested now, not before: nothing to compare with

    /// Centric marks off the treated teeth. A restoration is a new surface: its marks may sit elsewhere than before,
    /// and are judged by what they carry (TreatedTooth) instead.
    std::vector<Mark> marks_new;
    std::vector<Mark> marks_gone;
    /// Centric marks anywhere that stand out from the rest now and did not before.
    std::vector<Mark> marks_heavier;

    std::vector<TreatedTooth> treated;
    /// Sides opposite a treated side on which a hold or a centric mark changed. Empty when both sides were treated.
    std::optional<Side> other_side_changed;

    /// Holds lost on pairs without a treated tooth, and on pairs with one.
    std::vector<TeethPair> holds_lost_elsewhere;
    std::vector<TeethPair> holds_lost_on_treated;

    /// Both looks charted, nothing lost, gained or left untested.
    [[nodiscard]] bool holds_equal() const;
    /// Both looks marked in centric, nothing new, gone or heavier off the treated teeth; each treated tooth has a stop
    /// unless it had none before, and no mark on it stands out.
    [[nodiscard]] bool centric_equal() const;
};

[[nodiscard]] Changes what_changed(const LookCharts& before, const LookCharts& now, const std::vector<Tooth>& treated);

/// Each change as a sentence, teeth in the clinic's numbering; one sentence that says so when there is none.
[[nodiscard]] std::vector<std::string> sentences(const Changes& changes, Numbering numbering);

} // namespace retap::chart
