// What is usually next, as JSON: the advice, the step that comes first, open questions, contradictions. FORMATS.md.
#pragma once

#include "chart/next_rules.hpp"
#include "report/json.hpp"
#include "visit/visit.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::report {

/// What is next at a look (after or recheck; null: only the baseline), worked out once.
struct NextThings {
    chart::Assessment assessment;
    std::vector<chart::Advice> advice;
    std::string look;       ///< the look that is judged: "before", "after2", ...
    std::string first_look; ///< the look that the first step belongs to, which may not be begun yet
};
/// `sound` stands in when the look has no comparison of its own (visit::situation_of).
[[nodiscard]] NextThings next_of(const visit::Visit& visit, const visit::Look* look,
                                 std::optional<chart::SoundSays> sound = {});

/// The rules that apply, most pressing first.
[[nodiscard]] Json advice_json(const std::vector<chart::Advice>& advice);
/// The step that comes first, for a program and with how it is done; null when there is none.
[[nodiscard]] Json first_step_json(const NextThings& next);
[[nodiscard]] Json questions_json(const NextThings& next, chart::Numbering numbering);
[[nodiscard]] Json contradictions_json(const NextThings& next, chart::Numbering numbering);
/// One mark with the cusp, side, movement and rules (chart::MarkNote).
[[nodiscard]] Json mark_note_json(const chart::MarkNote& note);
[[nodiscard]] Json how_to_json(chart::Step step);

/// retap.rules/1: the table of rules, the letter rules, how each step is done, the warning signs.
[[nodiscard]] Json rules_json();

} // namespace retap::report
