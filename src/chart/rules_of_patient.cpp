// What the patient says, and how a visit ends.
#include "chart/next_conditions.hpp"
#include "chart/rule_tables.hpp"

#include <array>

namespace retap::chart {

namespace {

namespace is = conditions;

constexpr std::array patient = {
    Rule{.id = "ask-the-patient",
         .when = "Film, centric marks and sound are done, and the patient was not asked yet.",
         .suggestion = "Ask the patient how the bite feels, and note whether they are numb.",
         .why = "The patient's account comes after the checks that do not depend on feeling.",
         .source = practice,
         .defers_to = "the patient",
         .blocks = Blocks::done,
         .step = Step::ask_patient,
         .applies = is::ask_the_patient},
    Rule{.id = "numb-or-not",
         .when = "The patient was asked, and whether they are numb is not noted.",
         .suggestion = "Note whether the patient is numb.",
         .why = "A numb patient is a weaker judge of a high bite.",
         .source = "thickness sense with the tooth numb, 20 people: dulled, not gone",
         .defers_to = protocol,
         .blocks = Blocks::done,
         .step = Step::ask_numb,
         .applies = is::numbness_not_noted},
    Rule{.id = "numb",
         .when = "The patient is numb.",
         .suggestion = "Take what the patient says of the bite as weak evidence either way; ask again when feeling is "
                       "back.",
         .why = "Numbness dulls the sense of thickness, though it does not take it away.",
         .source = "thickness sense with the tooth numb, 20 people: dulled, not gone",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .applies = is::numb},
    Rule{.id = "high-while-numb",
         .when = "Film and centric marks are as before, and the patient, still numb, feels it high.",
         .suggestion = "Usually wait: change nothing, and recheck on another day, about 24 hours on, when feeling is "
                       "back. The sound by itself neither forces nor forbids it.",
         .why = "Numbness dulls the sense of thickness, and a bite that was right would be changed for good.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::wait,
         .applies = is::high_while_numb},
    Rule{
        .id = "high-and-not-numb",
        .when = "The patient is not numb and feels it high.",
        .suggestion = "Take it seriously: repeat film and centric marks, then eccentric ones, with fresh paper and dry "
                      "teeth. Consider the findings with your supervisor.",
        .why = "Half of the people tested felt steps near 14 micrometres, some far smaller ones: as fine as film of 8 "
               "micrometres, and finer than most paper.",
        .source = "Enkling 2010, Clin Oral Investig 14:683-690 (14.2, SD 12.1); Harper and Setchell 2002 (film); Malta "
                  "Barbosa 2018 (papers)",
        .defers_to = supervisor,
        .blocks = Blocks::done,
        .step = Step::repeat_checks,
        .applies = is::high_and_not_numb},
    Rule{.id = "feels-different",
         .when = "The patient says it feels different, but not high.",
         .suggestion = "Write down their words, and go over the three checks with your supervisor.",
         .why = "A bite can feel different for reasons that none of the checks sees.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::feels_different},
};

constexpr std::array ends = {
    Rule{.id = "baseline-complete",
         .when =
             "Film holds at every pair that can be tested, centric marks and sound are recorded before the work, and "
             "no flag is open.",
         .suggestion = "The baseline is complete. After the work do film, centric marks and sound first, with the "
                       "pick-up, the seat and the effort as they were.",
         .why = "A moved pick-up, posture or effort changes the sound by itself.",
         .source = "Zhang 2014, J Oral Rehabil, doi:10.1111/joor.12141 (posture and seat, joint sounds)",
         .defers_to = protocol,
         .step = Step::start_work,
         .applies = is::baseline_complete,
         .held_back_by = is::holds_back_work},
    Rule{.id = "comfortable-while-numb",
         .when = "All checks are as before, nothing else is open, and the patient, still numb, is comfortable.",
         .suggestion = "Usually enough for today; ask again when feeling is back.",
         .why = "A numb patient is a weaker judge.",
         .source = "thickness sense with the tooth numb, 20 people: dulled, not gone",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::recheck,
         .applies = is::comfortable_while_numb,
         .held_back_by = is::holds_back_today},
    Rule{.id = "done",
         .when = "All checks are as before, nothing is open, and the patient, not numb, is comfortable.",
         .suggestion = "Usually done: show it to your supervisor and have the visit signed.",
         .why = "Film, marks, sound and the patient agree.",
         .source = practice,
         .defers_to = supervisor,
         .step = Step::sign,
         .applies = is::done,
         .held_back_by = is::holds_back_done},
};

} // namespace

std::span<const Rule> rules_of_patient() {
    return patient;
}

std::span<const Rule> rules_of_ends() {
    return ends;
}

} // namespace retap::chart
