// The evidence that the rows of the rule tables refer to. Part of next_rules.cpp; not for others.
#pragma once

#include "chart/next_rules.hpp"

#include <string>
#include <vector>

namespace retap::chart::evidence {

using Sentences = std::vector<std::string>;

[[nodiscard]] Sentences missing_before(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences missing_now(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences spread(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences warnings_open(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences warnings_settled(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences place_not_said(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences maybe_crossbite(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences untested(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences other_side(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences contradicting(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences high_signs(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences treated_mark_gone(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences no_stop(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences stop_beside(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences no_stop_as_before(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences incline_only(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences guiding_only(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences lost_on_treated(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences changes(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences both_stages(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences working(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences non_working(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences protrusive(const Assessment& a, Numbering numbering);
[[nodiscard]] Sentences as_before(const Assessment& a, Numbering numbering);

} // namespace retap::chart::evidence
