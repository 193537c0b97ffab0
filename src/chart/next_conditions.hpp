// The conditions that the rows of the rule tables refer to. Part of next_rules.cpp; not for others.
#pragma once

#include "chart/next_rules.hpp"

namespace retap::chart::conditions {

[[nodiscard]] bool no_baseline(const Assessment& a);
[[nodiscard]] bool baseline_incomplete(const Assessment& a);
[[nodiscard]] bool baseline_lost(const Assessment& a);
[[nodiscard]] bool baseline_complete(const Assessment& a);
[[nodiscard]] bool few_holds_at_baseline(const Assessment& a);
[[nodiscard]] bool one_sided_at_baseline(const Assessment& a);
[[nodiscard]] bool warning_open(const Assessment& a);

[[nodiscard]] bool decided_to_wait(const Assessment& a);
[[nodiscard]] bool decided_to_adjust(const Assessment& a);
[[nodiscard]] bool place_not_said(const Assessment& a);
[[nodiscard]] bool crossbite_or_not(const Assessment& a);
[[nodiscard]] bool checks_missing(const Assessment& a);
[[nodiscard]] bool sound_not_compared(const Assessment& a);
[[nodiscard]] bool holds_left_untested(const Assessment& a);
[[nodiscard]] bool other_side_changed(const Assessment& a);
[[nodiscard]] bool checks_contradict(const Assessment& a);

[[nodiscard]] bool restoration_high(const Assessment& a);
[[nodiscard]] bool treated_mark_gone(const Assessment& a);
[[nodiscard]] bool no_stop(const Assessment& a);
[[nodiscard]] bool stop_beside_only(const Assessment& a);
[[nodiscard]] bool no_stop_as_before(const Assessment& a);
[[nodiscard]] bool incline_only(const Assessment& a);
[[nodiscard]] bool guiding_only(const Assessment& a);
[[nodiscard]] bool hold_lost_on_treated(const Assessment& a);
[[nodiscard]] bool changed_otherwise(const Assessment& a);

[[nodiscard]] bool only_sound_differs(const Assessment& a);
[[nodiscard]] bool only_sound_is_alike(const Assessment& a);
[[nodiscard]] bool sound_unclear(const Assessment& a);

[[nodiscard]] bool ask_the_patient(const Assessment& a);
[[nodiscard]] bool numbness_not_noted(const Assessment& a);
[[nodiscard]] bool numb(const Assessment& a);
[[nodiscard]] bool high_while_numb(const Assessment& a);
[[nodiscard]] bool high_and_not_numb(const Assessment& a);
[[nodiscard]] bool feels_different(const Assessment& a);

[[nodiscard]] bool eccentric_next(const Assessment& a);
[[nodiscard]] bool eccentric_too_early(const Assessment& a);
[[nodiscard]] bool marks_with_both_stages(const Assessment& a);
[[nodiscard]] bool mark_centric_again(const Assessment& a);
[[nodiscard]] bool eccentric_first_time(const Assessment& a);
[[nodiscard]] bool eccentric_working(const Assessment& a);
[[nodiscard]] bool eccentric_non_working(const Assessment& a);
[[nodiscard]] bool eccentric_protrusive(const Assessment& a);
[[nodiscard]] bool eccentric_as_before(const Assessment& a);

[[nodiscard]] bool comfortable_while_numb(const Assessment& a);
[[nodiscard]] bool done(const Assessment& a);

/// The first check that the baseline, or the look after the work, lacks.
[[nodiscard]] Step next_of_baseline(const Assessment& a);
[[nodiscard]] Step next_of_checks(const Assessment& a);
/// What to look at again first where checks contradict each other.
[[nodiscard]] Step look_again_first(const Assessment& a);

/// What holds back each of the ends.
[[nodiscard]] bool holds_back_work(const Rule& rule);
[[nodiscard]] bool holds_back_today(const Rule& rule);
[[nodiscard]] bool holds_back_done(const Rule& rule);

/// Shared with the evidence.
[[nodiscard]] bool lacks_stop(const TreatedTooth& t);
[[nodiscard]] bool lacks_stop_as_before(const TreatedTooth& t);
[[nodiscard]] bool keeps_stop_beside(const TreatedTooth& t);
[[nodiscard]] std::vector<Mark> open_of(const Assessment& a, Stage stage);

} // namespace retap::chart::conditions
