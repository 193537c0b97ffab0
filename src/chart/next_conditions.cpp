#include "chart/next_conditions.hpp"

#include <algorithm>

namespace retap::chart::conditions {

namespace {

bool any_treated(const Assessment& a, bool (*matches)(const TreatedTooth&)) {
    return std::any_of(a.changes.treated.begin(), a.changes.treated.end(), matches);
}

bool lacks_stop(const TreatedTooth& t) {
    return t.after == Support::none && t.before != Support::none;
}

bool lacks_stop_as_before(const TreatedTooth& t) {
    return t.after == Support::none && t.before == Support::none;
}

bool inclined_only(const TreatedTooth& t) {
    return t.after == Support::incline_only;
}

bool is_high(const Assessment& a) {
    return a.situation.feel == Feel::high;
}

bool settled_with(const Assessment& a, Stage stage) {
    return a.centric_settled && a.situation.now.marks && !eccentric_only(*a.situation.now.marks, stage).empty();
}

} // namespace

bool no_baseline(const Assessment& a) {
    return !a.situation.restored && a.situation.missing_before().size() == 3;
}

bool baseline_incomplete(const Assessment& a) {
    const auto lacking = a.situation.missing_before().size();
    return !a.situation.restored && lacking > 0 && lacking < 3;
}

bool baseline_lost(const Assessment& a) {
    return a.situation.restored && !a.situation.missing_before().empty();
}

bool baseline_complete(const Assessment& a) {
    return !a.situation.restored && a.situation.missing_before().empty() && !few_holds_at_baseline(a) &&
           !one_sided_at_baseline(a);
}

bool few_holds_at_baseline(const Assessment& a) {
    return !a.situation.restored && a.baseline_spread && few_holds(*a.baseline_spread);
}

bool one_sided_at_baseline(const Assessment& a) {
    return !a.situation.restored && a.baseline_spread && side_without_holds(*a.baseline_spread).has_value();
}

bool checks_missing(const Assessment& a) {
    return a.situation.restored && !a.situation.missing_now().empty();
}

bool holds_left_untested(const Assessment& a) {
    return !a.changes.holds_untested.empty();
}

bool other_side_changed(const Assessment& a) {
    return a.changes.other_side_changed.has_value();
}

bool restoration_high(const Assessment& a) {
    return a.looks_high;
}

bool no_stop(const Assessment& a) {
    return any_treated(a, lacks_stop);
}

bool no_stop_as_before(const Assessment& a) {
    return any_treated(a, lacks_stop_as_before);
}

bool incline_only(const Assessment& a) {
    return any_treated(a, inclined_only);
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
    return a.situation.sound == compare::Verdict::unclear;
}

bool ask_the_patient(const Assessment& a) {
    return a.situation.restored && a.situation.missing_now().empty() && a.situation.feel == Feel::not_asked;
}

bool numbness_not_noted(const Assessment& a) {
    return a.situation.feel != Feel::not_asked && !a.situation.numb;
}

bool high_while_numb(const Assessment& a) {
    return a.all_equal && is_high(a) && a.situation.numb == true;
}

bool high_and_not_numb(const Assessment& a) {
    return a.situation.restored && is_high(a) && a.situation.numb == false;
}

bool feels_different(const Assessment& a) {
    return a.situation.restored && a.situation.feel == Feel::other;
}

bool eccentric_next(const Assessment& a) {
    return a.centric_settled && !a.situation.now.marks->has_eccentric();
}

bool eccentric_too_early(const Assessment& a) {
    return a.situation.restored && !a.centric_settled && a.situation.now.marks &&
           a.situation.now.marks->has_eccentric();
}

bool marks_with_both_stages(const Assessment& a) {
    return a.situation.now.marks && !both_stages(*a.situation.now.marks).empty();
}

bool eccentric_working(const Assessment& a) {
    return settled_with(a, Stage::working);
}

bool eccentric_non_working(const Assessment& a) {
    return settled_with(a, Stage::non_working);
}

bool eccentric_protrusive(const Assessment& a) {
    return settled_with(a, Stage::protrusive);
}

bool comfortable_while_numb(const Assessment& a) {
    return a.all_equal && a.situation.feel == Feel::comfortable && a.situation.numb == true;
}

bool done(const Assessment& a) {
    return a.all_equal && a.situation.feel == Feel::comfortable && a.situation.numb == false;
}

} // namespace retap::chart::conditions
