#include "chart/next_conditions.hpp"

#include <algorithm>

namespace retap::chart::conditions {

namespace {

bool any_treated(const Assessment& a, bool (*matches)(const TreatedTooth&)) {
    return std::any_of(a.changes.treated.begin(), a.changes.treated.end(), matches);
}

bool has_eccentric(const Assessment& a) {
    return a.situation.now.marks && a.situation.now.marks->has_eccentric();
}

} // namespace

bool lacks_stop(const TreatedTooth& t) {
    return t.after == Support::none && !t.stop_beside && t.before != Support::none;
}

bool lacks_stop_as_before(const TreatedTooth& t) {
    return t.after == Support::none && !t.stop_beside && t.before == Support::none;
}

bool keeps_stop_beside(const TreatedTooth& t) {
    return t.after == Support::none && t.stop_beside;
}

std::vector<Mark> open_of(const Assessment& a, Stage stage) {
    std::vector<Mark> marks = a.eccentric_open;
    std::erase_if(marks, [stage](const Mark& mark) { return mark.stage != stage; });
    return marks;
}

bool decided_to_wait(const Assessment& a) {
    return a.situation.restored && a.situation.decided == Action::wait;
}

bool decided_to_adjust(const Assessment& a) {
    return a.situation.restored && a.situation.decided == Action::adjust;
}

bool place_not_said(const Assessment& a) {
    return !a.changes.place_not_said.empty();
}

bool crossbite_or_not(const Assessment& a) {
    return !a.maybe_crossbite.empty();
}

bool checks_missing(const Assessment& a) {
    return a.situation.restored && !a.situation.missing_now().empty();
}

bool sound_not_compared(const Assessment& a) {
    return a.situation.restored && a.situation.before_has_sound && a.situation.now_has_sound && !a.situation.sound;
}

bool holds_left_untested(const Assessment& a) {
    return !a.changes.holds_untested.empty();
}

bool other_side_changed(const Assessment& a) {
    return a.changes.other_side_changed.has_value();
}

bool checks_contradict(const Assessment& a) {
    return !contradictions(a, Numbering::iso).empty();
}

bool restoration_high(const Assessment& a) {
    return a.looks_high;
}

bool treated_mark_gone(const Assessment& a) {
    return !a.changes.treated_marks_gone.empty();
}

bool no_stop(const Assessment& a) {
    return any_treated(a, lacks_stop);
}

bool stop_beside_only(const Assessment& a) {
    return any_treated(a, keeps_stop_beside);
}

bool no_stop_as_before(const Assessment& a) {
    return any_treated(a, lacks_stop_as_before);
}

bool incline_only(const Assessment& a) {
    return any_treated(a, [](const TreatedTooth& t) { return t.after == Support::incline_only; });
}

bool guiding_only(const Assessment& a) {
    return any_treated(a, [](const TreatedTooth& t) { return t.after == Support::guiding_only; });
}

bool hold_lost_on_treated(const Assessment& a) {
    return !a.changes.holds_lost_on_treated.empty() && a.changes.holds_lost_elsewhere.empty();
}

bool changed_otherwise(const Assessment& a) {
    const Changes& c = a.changes;
    return !a.looks_high &&
           (!c.holds_gained.empty() || !c.marks_new.empty() || !c.marks_gone.empty() || !c.marks_heavier.empty());
}

bool only_sound_differs(const Assessment& a) {
    return a.centric_settled && a.situation.sound == compare::Verdict::different;
}

bool only_sound_is_alike(const Assessment& a) {
    return a.film_or_marks_differ && a.situation.sound == compare::Verdict::alike;
}

bool sound_unclear(const Assessment& a) {
    return a.situation.restored && a.situation.sound == compare::Verdict::unclear;
}

bool eccentric_next(const Assessment& a) {
    return a.centric_settled && !has_eccentric(a);
}

bool eccentric_too_early(const Assessment& a) {
    return a.situation.restored && !a.centric_settled && has_eccentric(a);
}

bool marks_with_both_stages(const Assessment& a) {
    return a.situation.now.marks && !both_stages(*a.situation.now.marks).empty();
}

bool mark_centric_again(const Assessment& a) {
    return a.centric_settled && !a.eccentric_open.empty() && !a.situation.now.marks->centric_again;
}

bool eccentric_first_time(const Assessment& a) {
    return a.centric_settled && !a.eccentric_open.empty() && !a.situation.eccentric_before_this_look;
}

bool eccentric_working(const Assessment& a) {
    return a.centric_settled && !open_of(a, Stage::working).empty();
}

bool eccentric_non_working(const Assessment& a) {
    return a.centric_settled && !open_of(a, Stage::non_working).empty();
}

bool eccentric_protrusive(const Assessment& a) {
    return a.centric_settled && !open_of(a, Stage::protrusive).empty();
}

bool eccentric_as_before(const Assessment& a) {
    return a.centric_settled && !a.eccentric_as_before.empty();
}

Step look_again_first(const Assessment& a) {
    return contradictions(a, Numbering::iso).front().step;
}

} // namespace retap::chart::conditions
