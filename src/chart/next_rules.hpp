// What is usually next: one table of rules, and the engine that reads it.
#pragma once

#include "chart/contradictions.hpp"
#include "chart/mark_note.hpp"
#include "chart/situation.hpp"
#include "chart/step.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// What must wait while a rule applies. Each but `nothing` holds back the end as well: nothing open is followed by
/// "done". work: the work should not begin. judgement: what the marks say of the restoration is not drawn yet.
enum class Blocks { nothing, done, judgement, work };
[[nodiscard]] std::string_view word(Blocks blocks); ///< "nothing", "done", "judgement", "work"

struct Rule;
/// A rule that applies, with what made it apply.
struct Advice {
    const Rule* rule = nullptr;
    std::vector<std::string> evidence{};
    std::vector<MarkNote> marks{}; ///< the marks it lists, each with what can be said of it
    Step step = Step::none;
};

/// A row of the table. Everything but the functions is text that is printed as it stands.
struct Rule {
    std::string_view id;
    std::string_view when;
    std::string_view suggestion;
    std::string_view why;
    std::string_view source; ///< of the reason; "common practice, no source" where there is none
    std::string_view defers_to;
    Blocks blocks = Blocks::nothing;
    Step step = Step::none;
    bool (*applies)(const Assessment&) = nullptr;
    /// What in this visit made it apply, as sentences; null when `when` says it all.
    std::vector<std::string> (*evidence)(const Assessment&, Numbering) = nullptr;
    /// The marks it lists; null when it lists none.
    std::vector<Mark> (*marks)(const Assessment&) = nullptr;
    /// The step where it depends on what is missing; null: `step`.
    Step (*step_now)(const Assessment&) = nullptr;
    /// A rule that ends something applies only when nothing that applies holds it back; null: no such rule.
    bool (*held_back_by)(const Rule&) = nullptr;
};

/// In order of priority. Guidance only: what touches tooth or restoration is put as a question to the supervisor.
[[nodiscard]] std::span<const Rule> next_rules();

/// Every rule that applies, most pressing first. Never empty.
[[nodiscard]] std::vector<Advice> next_steps(const Assessment& assessment, Numbering numbering);
/// The advice whose step comes first; null when none of it is something to do.
[[nodiscard]] const Advice* first_step(const std::vector<Advice>& advice);

/// Something only a person can say, and the rules wait for.
struct Question {
    std::string_view id; ///< "mark-place", "crossbite", "numb", "feel"
    std::string text;
    std::vector<Mark> marks{};
    std::vector<Tooth> teeth{};
    std::vector<std::string_view> answers{};
};
[[nodiscard]] std::vector<Question> open_questions(const Assessment& assessment, Numbering numbering);

} // namespace retap::chart
