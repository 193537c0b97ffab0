// What somebody does next, as a program names it, and how it is done.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace retap::chart {

enum class Step {
    none,               ///< nothing to do in the record
    chart_holds,        ///< film at every pair that can be tested
    test_pairs,         ///< film at the pairs that are left
    chart_centric,      ///< paper, closing straight
    record,             ///< the sound of this look
    raise_warning,      ///< take a flag to the supervisor, and note what was decided
    start_work,         ///< the baseline is whole
    compare_sound,      ///< the takes of this look with those of the baseline
    ask_mark_place,     ///< on the restoration, or beside it
    ask_crossbite,      ///< which teeth cross, or none
    rest_and_repeat,    ///< let the patient rest, then film and marks again
    repeat_checks,      ///< film and marks again at this look
    look_at_marks,      ///< fresh thin paper at the treated tooth first
    look_at_film,       ///< film at the named pairs first
    record_again,       ///< a take in the same way as before
    discuss,            ///< with the supervisor
    ask_patient,        ///< how it feels
    ask_numb,           ///< whether the patient is numb
    wait,               ///< decide to wait, and recheck on another day
    recheck,            ///< the look on another day
    new_look,           ///< the three checks once more after something was changed
    mark_eccentric,     ///< the movements, in another colour
    mark_centric_again, ///< centric over the eccentric colour
    leave_alone,        ///< these places carry the centric bite
    sign,               ///< show it and have it signed
};
[[nodiscard]] std::string_view word(Step step); ///< as above: "chart_holds"

/// One thing done with the hands, and why; shown where the step is taken, not as a manual.
struct HowTo {
    std::string_view text;
    std::string_view why;
    std::string_view source; ///< "common practice, no source" where there is none
};
/// In order of doing; empty where the step speaks for itself.
[[nodiscard]] std::span<const HowTo> how_to(Step step);
/// The steps that have one, for a list of them all.
[[nodiscard]] std::span<const Step> steps_with_how_to();
[[nodiscard]] std::optional<Step> step_from(std::string_view word);

} // namespace retap::chart
