#include "chart/changes.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

bool is_treated(const std::vector<Tooth>& treated, Tooth tooth) {
    return std::find(treated.begin(), treated.end(), tooth) != treated.end();
}

bool contains_place(const std::vector<Mark>& marks, const Mark& there) {
    return std::any_of(marks.begin(), marks.end(),
                       [&](const Mark& mark) { return mark.tooth == there.tooth && mark.place == there.place; });
}

/// Marks of `these` whose place is not in `those`.
std::vector<Mark> without(std::vector<Mark> these, const std::vector<Mark>& those) {
    std::erase_if(these, [&](const Mark& mark) { return contains_place(those, mark); });
    return these;
}

void compare_holds(const HoldChart& before, const HoldChart& now, Changes& changes) {
    for (const auto& [pair, film] : before) {
        const auto result = result_of(now, pair);
        if (!result) {
            changes.holds_untested.push_back(pair);
        } else if (film == Film::hold && *result != Film::hold) {
            changes.holds_lost.push_back(pair);
        } else if (film != Film::hold && *result == Film::hold) {
            changes.holds_gained.push_back(pair);
        }
    }
    for (const auto& [pair, film] : now) {
        if (!result_of(before, pair)) {
            changes.holds_first.push_back(pair);
        }
    }
    changes.holds_compared = true;
}

Support support_of(const std::vector<Mark>& marks) {
    if (std::any_of(marks.begin(), marks.end(), is_stop)) {
        return Support::stop;
    }
    return marks.empty() ? Support::none : Support::incline_only;
}

std::vector<Mark> centric_on(const MarkChart& chart, Tooth tooth, bool restoration_only) {
    std::vector<Mark> marks = chart.of(Stage::centric);
    std::erase_if(marks,
                  [&](const Mark& mark) { return mark.tooth != tooth || (restoration_only && !mark.on_restoration); });
    return marks;
}

/// Before the work there may be no restoration to star: then the whole tooth counts.
std::vector<Mark> baseline_on(const MarkChart& chart, Tooth tooth) {
    std::vector<Mark> starred = centric_on(chart, tooth, true);
    return starred.empty() ? centric_on(chart, tooth, false) : starred;
}

TreatedTooth judge(Tooth tooth, const LookCharts& before, const LookCharts& now) {
    TreatedTooth result{tooth};
    bool stood_out_before = false;
    if (before.marks && before.marks->has_stage(Stage::centric)) {
        result.before = support_of(baseline_on(*before.marks, tooth));
        const auto heavier = heavier_than_the_rest(*before.marks);
        stood_out_before =
            std::any_of(heavier.begin(), heavier.end(), [&](const Mark& mark) { return mark.tooth == tooth; });
    }
    if (now.marks && now.marks->has_stage(Stage::centric)) {
        result.after = support_of(centric_on(*now.marks, tooth, true));
        const auto heavier = heavier_than_the_rest(*now.marks);
        result.heavier = !stood_out_before && std::any_of(heavier.begin(), heavier.end(), [&](const Mark& mark) {
            return mark.tooth == tooth && mark.on_restoration;
        });
    }
    return result;
}

void compare_centric(const MarkChart& before, const MarkChart& now, const std::vector<Tooth>& treated,
                     Changes& changes) {
    const auto off_treated = [&](std::vector<Mark> marks) {
        std::erase_if(marks, [&](const Mark& mark) { return is_treated(treated, mark.tooth); });
        return marks;
    };
    const std::vector<Mark> was = before.of(Stage::centric);
    const std::vector<Mark> is = now.of(Stage::centric);
    changes.marks_new = off_treated(without(is, was));
    changes.marks_gone = off_treated(without(was, is));
    changes.marks_heavier = without(heavier_than_the_rest(now), heavier_than_the_rest(before));
    changes.centric_compared = true;
}

std::optional<Side> changed_other_side(const Changes& changes, const std::vector<Tooth>& treated) {
    if (treated.empty()) {
        return std::nullopt;
    }
    const Side other = opposite(treated.front().side());
    if (std::any_of(treated.begin(), treated.end(), [&](Tooth tooth) { return tooth.side() == other; })) {
        return std::nullopt;
    }
    const auto pair_there = [&](const TeethPair& pair) { return pair.upper.side() == other; };
    const auto mark_there = [&](const Mark& mark) { return mark.tooth.side() == other; };
    const auto any_pair = [&](const std::vector<TeethPair>& pairs) {
        return std::any_of(pairs.begin(), pairs.end(), pair_there);
    };
    const auto any_mark = [&](const std::vector<Mark>& marks) {
        return std::any_of(marks.begin(), marks.end(), mark_there);
    };
    const bool changed = any_pair(changes.holds_lost) || any_pair(changes.holds_gained) ||
                         any_mark(changes.marks_new) || any_mark(changes.marks_gone) || any_mark(changes.marks_heavier);
    return changed ? std::optional(other) : std::nullopt;
}

} // namespace

bool Changes::holds_equal() const {
    return holds_compared && holds_lost.empty() && holds_gained.empty() && holds_untested.empty();
}

bool Changes::centric_equal() const {
    const bool treated_fine = std::all_of(treated.begin(), treated.end(), [](const TreatedTooth& tooth) {
        const bool carried = tooth.after == Support::stop || tooth.after == tooth.before;
        return carried && !tooth.heavier;
    });
    return centric_compared && marks_new.empty() && marks_gone.empty() && marks_heavier.empty() && treated_fine;
}

Changes what_changed(const LookCharts& before, const LookCharts& now, const std::vector<Tooth>& treated) {
    Changes changes;
    if (before.holds && now.holds) {
        compare_holds(*before.holds, *now.holds, changes);
    }
    if (before.marks && now.marks && before.marks->has_stage(Stage::centric) && now.marks->has_stage(Stage::centric)) {
        compare_centric(*before.marks, *now.marks, treated, changes);
    }
    for (const Tooth tooth : treated) {
        changes.treated.push_back(judge(tooth, before, now));
    }
    for (const TeethPair& pair : changes.holds_lost) {
        (pair.has_any(treated) ? changes.holds_lost_on_treated : changes.holds_lost_elsewhere).push_back(pair);
    }
    changes.other_side_changed = changed_other_side(changes, treated);
    return changes;
}

} // namespace retap::chart
