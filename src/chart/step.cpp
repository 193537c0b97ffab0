#include "chart/step.hpp"

#include <array>
#include <utility>

namespace retap::chart {

namespace {

constexpr std::array<std::pair<Step, std::string_view>, 25> words = {{
    {Step::none, "none"},
    {Step::chart_holds, "chart_holds"},
    {Step::test_pairs, "test_pairs"},
    {Step::chart_centric, "chart_centric"},
    {Step::record, "record"},
    {Step::compare_sound, "compare_sound"},
    {Step::raise_warning, "raise_warning"},
    {Step::start_work, "start_work"},
    {Step::ask_mark_place, "ask_mark_place"},
    {Step::ask_crossbite, "ask_crossbite"},
    {Step::rest_and_repeat, "rest_and_repeat"},
    {Step::repeat_checks, "repeat_checks"},
    {Step::look_at_marks, "look_at_marks"},
    {Step::look_at_film, "look_at_film"},
    {Step::record_again, "record_again"},
    {Step::discuss, "discuss"},
    {Step::ask_patient, "ask_patient"},
    {Step::ask_numb, "ask_numb"},
    {Step::wait, "wait"},
    {Step::recheck, "recheck"},
    {Step::new_look, "new_look"},
    {Step::mark_eccentric, "mark_eccentric"},
    {Step::mark_centric_again, "mark_centric_again"},
    {Step::leave_alone, "leave_alone"},
    {Step::sign, "sign"},
}};

constexpr std::string_view practice = "common practice, no source";

constexpr HowTo dry = {"Dry the teeth, and keep them dry while the paper is in.",
                       "Paper does not mark a wet tooth, and a missing mark would be read as no contact.", practice};
constexpr HowTo thin = {"Use thin paper, and the same paper before and after the work.",
                        "Thick paper marks teeth that do not meet, and two papers mark differently.",
                        "Malta Barbosa 2018: labelled and real thickness differ for some papers"};
constexpr HowTo grease = {"Where marks stay poor, wipe a film of grease (petroleum jelly) over the paper first.",
                          "It helps the colour over to smooth or polished surfaces.", practice};
constexpr HowTo not_size = {"Note where a mark is; call it heavy only beside the others, not for its size.",
                            "The size of a mark does not follow the load.", "Carey 2007, Open Dent J 1:1-7"};
constexpr HowTo ask_where = {"For each mark on the treated tooth say whether it lies on the restoration or beside it.",
                             "Whether the restoration carries the bite depends on it, and nobody can tell it later.",
                             practice};
constexpr HowTo film_hold = {
    "Let the patient close on the film and pull: it holds when the pull is resisted. Film that only drags slides.",
    "Film of 8 micrometres still drags at the edge of its grip, so that a drag is no contact for certain.",
    "Harper and Setchell 2002, Int J Prosthodont 15:347-352"};
constexpr HowTo film_all = {"Try every pair on both sides, and note what cannot be tested as untestable.",
                            "A pair that was not tried can be neither kept nor lost.", practice};
constexpr HowTo same_pull = {"Ask for the same firm closing each time, and pull in the same direction.",
                             "Fewer teeth meet when the teeth close lightly.",
                             "J Oral Rehabil 1983;10:473-480: fewer contacts at light pressure"};
constexpr HowTo straight = {"Mark centric first: let the patient tap straight, in the usual bite.",
                            "What carries the bite is settled before any movement is looked at.", practice};
constexpr HowTo other_colour = {"Mark the movements in another colour: to each side, and forward.",
                                "One colour would hide which mark came from which.", practice};
constexpr HowTo again = {"Then mark centric again, in the first colour, over the movements.",
                         "A place that takes both colours carries the centric bite and is left alone; without it the "
                         "second colour hides the first.",
                         practice};
constexpr HowTo first_time = {
    "The first time the movements are looked at, talk to your supervisor before any of these places is touched.",
    "Marks of movements are often what this patient always had.", practice};
constexpr HowTo treated_first = {"Look at the treated tooth by itself, then at the other teeth by themselves.",
                                 "Today's work can only have changed the first; the others were so before.", practice};
constexpr HowTo same_setting = {
    "Record with the pick-up, the seat and the effort as they were; let the patient tap a few times first.",
    "A moved pick-up, posture or effort changes the sound by itself, and force settles over the first taps.",
    "Zhang 2014, J Oral Rehabil; Tanaka 2006, Int Chin J Dent 6:21-28"};
constexpr HowTo no_tapping = {"No tapping on a tooth that hurts, is loose, carries a fresh implant or unset cement.",
                              "Tapping can hurt or loosen it; your local protocol says what may be tapped on.",
                              practice};
constexpr HowTo open_question = {"Ask openly how the bite feels, without the word high, and write the words down.",
                                 "A question that names the answer gets it.", practice};
constexpr HowTo ask_feeling = {"Ask whether lip, tongue and tooth still feel numb.",
                               "Numbness dulls the sense of thickness, though it does not take it away.",
                               "thickness sense with the tooth numb, 20 people: dulled, not gone"};
constexpr HowTo rest = {"Let the patient sit back, rest the jaw, and close a few times in the usual bite.",
                        "A jaw held open for long closes elsewhere at first.", practice};
constexpr HowTo next_day = {"Agree on a day, about 24 hours on, and say what to look out for until then.",
                            "Feeling is back by then, and the same checks can be made again.", practice};

constexpr std::array film_steps = {film_hold, film_all, same_pull};
constexpr std::array centric_steps = {dry, thin, straight, ask_where, not_size, grease};
constexpr std::array eccentric_steps = {dry, other_colour, again, treated_first, first_time};
constexpr std::array again_steps = {dry, again};
constexpr std::array record_steps = {no_tapping, same_setting};
constexpr std::array patient_steps = {open_question, ask_feeling};
constexpr std::array numb_steps = {ask_feeling};
constexpr std::array rest_steps = {rest, film_hold, dry};
constexpr std::array repeat_steps = {film_hold, dry, thin, grease};
constexpr std::array marks_steps = {dry, thin, ask_where, grease};
constexpr std::array look_steps = {film_hold, dry, straight, ask_where, no_tapping, same_setting};
constexpr std::array wait_steps = {next_day};
constexpr std::array place_steps = {ask_where};

constexpr std::array with_how_to = {
    Step::chart_holds,     Step::test_pairs,        Step::chart_centric, Step::record,       Step::ask_mark_place,
    Step::rest_and_repeat, Step::repeat_checks,     Step::look_at_marks, Step::look_at_film, Step::record_again,
    Step::ask_patient,     Step::ask_numb,          Step::wait,          Step::recheck,      Step::new_look,
    Step::mark_eccentric,  Step::mark_centric_again};

} // namespace

std::string_view word(Step step) {
    for (const auto& [one, name] : words) {
        if (one == step) {
            return name;
        }
    }
    return "none";
}

std::optional<Step> step_from(std::string_view wanted) {
    for (const auto& [one, name] : words) {
        if (name == wanted) {
            return one;
        }
    }
    return std::nullopt;
}

std::span<const HowTo> how_to(Step step) {
    switch (step) {
    case Step::chart_holds:
    case Step::test_pairs:
    case Step::look_at_film:
        return film_steps;
    case Step::chart_centric:
        return centric_steps;
    case Step::record:
    case Step::record_again:
        return record_steps;
    case Step::ask_mark_place:
        return place_steps;
    case Step::rest_and_repeat:
        return rest_steps;
    case Step::repeat_checks:
        return repeat_steps;
    case Step::look_at_marks:
        return marks_steps;
    case Step::ask_patient:
        return patient_steps;
    case Step::ask_numb:
        return numb_steps;
    case Step::wait:
        return wait_steps;
    case Step::recheck:
    case Step::new_look:
        return look_steps;
    case Step::mark_eccentric:
        return eccentric_steps;
    case Step::mark_centric_again:
        return again_steps;
    default:
        return {};
    }
}

std::span<const Step> steps_with_how_to() {
    return with_how_to;
}

} // namespace retap::chart
