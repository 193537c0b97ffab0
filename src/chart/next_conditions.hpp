// The conditions and the evidence that the rows of next_rules refer to. Part of next_rules.cpp; not for others.
#pragma once

#include "chart/situation.hpp"

#include <string>
#include <vector>

namespace retap::chart::conditions {

using Sentences = std::vector<std::string>;

[[nodiscard]] bool no_baseline(const Assessment& a);
[[nodiscard]] bool baseline_incomplete(const Assessment& a);
[[nodiscard]] bool baseline_lost(const Assessment& a);
[[nodiscard]] bool baseline_complete(const Assessment& a);
[[nodiscard]] bool few_holds_at_baseline(const Assessment& a);
[[nodiscard]] bool one_sided_at_baseline(const Assessment& a);
[[nodiscard]] bool checks_missing(const Assessment& a);
[[nodiscard]] bool holds_left_untested(const Assessment& a);
[[nodiscard]] bool other_side_changed(const Assessment& a);
[[nodiscard]] bool restoration_high(const Assessment& a);
[[nodiscard]] bool no_stop(const Assessment& a);
[[nodiscard]] bool no_stop_as_before(const Assessment& a);
[[nodiscard]] bool incline_only(const Assessment& a);
[[nodiscard]] bool hold_lost_on_treated(const Assessment& a);
[[nodiscard]] bool changed_otherwise(const Assessment& a);
[[nodiscard]] bool only_sound_differs(const Assessment& a);
[[nodiscard]] bool only_sound_is_alike(const Assessment& a);
[[nodiscard]] bool sound_unclear(const Assessment& a);
[[nodiscard]] bool ask_the_patient(const Assessment& a);
[[nodiscard]] bool numbness_not_noted(const Assessment& a);
[[nodiscard]] bool high_while_numb(const Assessment& a);
[[nodiscard]] bool high_and_not_numb(const Assessment& a);
[[nodiscard]] bool feels_different(const Assessment& a);
[[nodiscard]] bool eccentric_next(const Assessment& a);
[[nodiscard]] bool eccentric_too_early(const Assessment& a);
[[nodiscard]] bool marks_with_both_stages(const Assessment& a);
[[nodiscard]] bool eccentric_working(const Assessment& a);
[[nodiscard]] bool eccentric_non_working(const Assessment& a);
[[nodiscard]] bool eccentric_protrusive(const Assessment& a);
[[nodiscard]] bool comfortable_while_numb(const Assessment& a);
[[nodiscard]] bool done(const Assessment& a);

[[nodiscard]] Sentences say_missing_before(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_missing_now(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_spread(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_untested(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_other_side(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_high_signs(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_no_stop(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_no_stop_as_before(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_incline_only(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_lost_on_treated(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_changes(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_both_stages(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_working(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_non_working(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences say_protrusive(const Assessment& a, Numbering numbering);

} // namespace retap::chart::conditions
