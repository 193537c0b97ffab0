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
        if (film == Film::untestable) {
            continue;
        }
        if (!result || *result == Film::untestable) {
            changes.holds_untested.push_back(pair);
        } else if (film == Film::hold && *result != Film::hold) {
            changes.holds_lost.push_back(pair);
        } else if (film != Film::hold && *result == Film::hold) {
            changes.holds_gained.push_back(pair);
        }
    }
    for (const auto& [pair, film] : now) {
        if (film != Film::untestable && result_of(before, pair).value_or(Film::untestable) == Film::untestable) {
            changes.holds_first.push_back(pair);
        }
    }
    changes.holds_compared = true;
}

Support support_of(const std::vector<Mark>& marks, const Crossbite& crossbite) {
    if (marks.empty()) {
        return Support::none;
    }
    if (std::any_of(marks.begin(), marks.end(), [&](const Mark& mark) { return is_stop(mark, crossbite); })) {
        return Support::stop;
    }
    const bool inclines = std::all_of(marks.begin(), marks.end(), [](const Mark& mark) { return mark.place.incline; });
    return inclines ? Support::incline_only : Support::guiding_only;
}

std::vector<Mark> centric_on(const MarkChart& chart, Tooth tooth, std::optional<Where> where = {}) {
    std::vector<Mark> marks = chart.of(Stage::centric);
    std::erase_if(marks, [&](const Mark& mark) { return mark.tooth != tooth || (where && mark.where != *where); });
    return marks;
}

/// What is said to lie on the restoration; whether that is all is open while a mark's place is not said.
Support support_now(const MarkChart& chart, Tooth tooth, const Crossbite& crossbite) {
    const Support said = support_of(centric_on(chart, tooth, Where::restoration), crossbite);
    const bool open = !centric_on(chart, tooth, Where::not_said).empty();
    return said != Support::stop && open ? Support::not_said : said;
}

/// Before the work the flag means an old filling; without one the whole tooth counts.
Support support_before(const MarkChart& chart, Tooth tooth, const Crossbite& crossbite) {
    const std::vector<Mark> filling = centric_on(chart, tooth, Where::restoration);
    return support_of(filling.empty() ? centric_on(chart, tooth) : filling, crossbite);
}

TreatedTooth judge(Tooth tooth, const LookCharts& before, const LookCharts& now, const Crossbite& crossbite) {
    TreatedTooth result{tooth};
    std::vector<Mark> stood_out;
    if (before.marks && before.marks->has_stage(Stage::centric)) {
        result.before = support_before(*before.marks, tooth, crossbite);
        stood_out = heavier_than_the_rest(*before.marks);
    }
    if (now.marks && now.marks->has_stage(Stage::centric)) {
        result.after = support_now(*now.marks, tooth, crossbite);
        const std::vector<Mark> beside = centric_on(*now.marks, tooth, Where::beside);
        result.stop_beside = support_of(beside, crossbite) == Support::stop;
        const auto heavier = heavier_than_the_rest(*now.marks);
        result.heavier = std::any_of(heavier.begin(), heavier.end(), [&](const Mark& mark) {
            return mark.tooth == tooth && mark.on_restoration() && !contains_place(stood_out, mark);
        });
    }
    return result;
}

void compare_centric(const MarkChart& before, const MarkChart& now, const std::vector<Tooth>& treated,
                     Changes& changes) {
    const std::vector<Mark> was = before.of(Stage::centric);
    const std::vector<Mark> is = now.of(Stage::centric);
    for (const Mark& mark : without(is, was)) {
        if (!is_treated(treated, mark.tooth) || mark.where == Where::beside) {
            changes.marks_new.push_back(mark);
        }
    }
    for (const Mark& mark : without(was, is)) {
        (is_treated(treated, mark.tooth) ? changes.treated_marks_gone : changes.marks_gone).push_back(mark);
    }
    changes.marks_heavier = without(heavier_than_the_rest(now), heavier_than_the_rest(before));
    changes.centric_compared = true;
}

std::vector<Mark> not_said(const MarkChart& chart, const std::vector<Tooth>& treated) {
    std::vector<Mark> open;
    for (const Mark& mark : chart.marks) {
        const bool told = std::any_of(chart.marks.begin(), chart.marks.end(), [&](const Mark& other) {
            return other.tooth == mark.tooth && other.place == mark.place && other.where != Where::not_said;
        });
        if (is_treated(treated, mark.tooth) && !told) {
            open.push_back(mark);
        }
    }
    return open;
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
        const bool beside = tooth.after == Support::none && tooth.stop_beside;
        const bool carried = tooth.after == Support::stop || tooth.after == tooth.before || beside;
        return carried && !tooth.heavier;
    });
    return centric_compared && marks_new.empty() && marks_gone.empty() && treated_marks_gone.empty() &&
           marks_heavier.empty() && place_not_said.empty() && treated_fine;
}

Changes what_changed(const LookCharts& before, const LookCharts& now, const std::vector<Tooth>& treated,
                     const Crossbite& crossbite) {
    Changes changes;
    if (before.holds && now.holds) {
        compare_holds(*before.holds, *now.holds, changes);
    }
    if (before.marks && now.marks && before.marks->has_stage(Stage::centric) && now.marks->has_stage(Stage::centric)) {
        compare_centric(*before.marks, *now.marks, treated, changes);
    }
    for (const Tooth tooth : treated) {
        changes.treated.push_back(judge(tooth, before, now, crossbite));
    }
    if (now.marks) {
        changes.place_not_said = not_said(*now.marks, treated);
    }
    for (const TeethPair& pair : changes.holds_lost) {
        (pair.has_any(treated) ? changes.holds_lost_on_treated : changes.holds_lost_elsewhere).push_back(pair);
    }
    changes.other_side_changed = changed_other_side(changes, treated);
    return changes;
}

} // namespace retap::chart
