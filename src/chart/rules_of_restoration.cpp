// What film, marks and sound say together about the restoration.
#include "chart/next_conditions.hpp"
#include "chart/next_evidence.hpp"
#include "chart/rule_tables.hpp"

#include <array>

namespace retap::chart {

namespace {

namespace is = conditions;
namespace say = evidence;

constexpr std::array restoration = {
    Rule{.id = "restoration-high",
         .when = "Holds were lost away from the restoration, or a mark on it stands out from the rest.",
         .suggestion = "Consider, with your supervisor, whether the restoration is high; repeat all three checks after "
                       "any adjustment.",
         .why =
             "A high spot keeps other teeth apart and takes the paper first. A different sound supports it. Mark size "
             "alone is no measure of load.",
         .source = "common practice, no source; mark size: Carey 2007, Open Dent J 1:1-7",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::restoration_high,
         .evidence = say::high_signs},
    Rule{.id = "mark-lost-on-treated",
         .when = "A centric mark that the treated tooth had before the work is gone.",
         .suggestion = "Look there again with fresh thin paper on a dry tooth. If it stays away, consider, with your "
                       "supervisor, whether the restoration keeps that place apart, or covers it and is short there.",
         .why = "The mark the tooth had is the mark it should have.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::look_at_marks,
         .applies = is::treated_mark_gone,
         .evidence = say::treated_mark_gone,
         .marks = [](const Assessment& a) { return a.changes.treated_marks_gone; }},
    Rule{.id = "no-stop",
         .when = "The treated tooth carries no centric stop, on the restoration or beside it, and was not known to be "
                 "without one before.",
         .suggestion = "Consider, with your supervisor, that the restoration is likely out of contact.",
         .why = "Without a stop the tooth may move until it meets its opponent.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::no_stop,
         .evidence = say::no_stop},
    Rule{.id = "stop-beside",
         .when = "The restoration carries no centric stop, and the tooth keeps one beside it.",
         .suggestion = "Note it; whether the restoration should carry a stop of its own is for your supervisor to say.",
         .why = "The tooth is kept in its place by the stop that it has.",
         .source = practice,
         .defers_to = supervisor,
         .applies = is::stop_beside_only,
         .evidence = say::stop_beside},
    Rule{.id = "no-stop-as-before",
         .when = "The treated tooth carries no centric stop, and had none before.",
         .suggestion =
             "Note that this is as before; whether the tooth should have had a stop is for your supervisor to "
             "say.",
         .why = "The work changed nothing here, and a tooth without a stop may move.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::no_stop_as_before,
         .evidence = say::no_stop_as_before},
    Rule{.id = "incline-only",
         .when = "The restoration is touched on an incline only.",
         .suggestion = "Consider, with your supervisor, whether the contact should be a stop instead.",
         .why = "A contact on an incline pushes the tooth sideways and may guide the jaw off its closing path.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::incline_only,
         .evidence = say::incline_only},
    Rule{.id = "guiding-only",
         .when = "The restoration is touched on a guiding cusp, and on no supporting cusp, fossa or marginal ridge.",
         .suggestion = "Consider, with your supervisor, whether the restoration carries the bite at all.",
         .why = "Guiding cusps do not carry the closed bite, unless the teeth meet in crossbite.",
         .source = "cusp roles: two school texts",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::guiding_only,
         .evidence = say::guiding_only},
    Rule{.id = "light-on-restoration",
         .when = "The treated tooth no longer holds film, and all other holds are kept.",
         .suggestion = "Consider, with your supervisor, that the restoration may be light; look at its marks.",
         .why = "Film of 8 micrometres holds up to a gap of about 6: the tooth may be just short of its opponent.",
         .source = "Harper and Setchell 2002, Int J Prosthodont 15:347-352",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::look_at_marks,
         .applies = is::hold_lost_on_treated,
         .evidence = say::lost_on_treated},
    Rule{.id = "changed-otherwise",
         .when = "Film or centric marks changed in a way that points neither to a high nor to a light restoration.",
         .suggestion = "Repeat film and marks once; if the change stays, show it to your supervisor.",
         .why = "Paper and film vary with moisture, force and the way the patient closes.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::repeat_checks,
         .applies = is::changed_otherwise,
         .evidence = say::changes},
};

constexpr std::array sound = {
    Rule{.id = "only-sound-differs",
         .when = "Film and centric marks are as before, and the sound is different.",
         .suggestion = "Trust film and marks, and record again: same seat, same place of the pick-up, same effort, the "
                       "first taps left out.",
         .why = "A moved pick-up, posture, effort or the first taps change the sound; film and marks stand before it.",
         .source = "Zhang 2014, J Oral Rehabil, doi:10.1111/joor.12141 (posture and seat, joint sounds); Tanaka 2006, "
                   "Int Chin J Dent 6:21-28 (first taps)",
         .defers_to = "film and marks",
         .blocks = Blocks::done,
         .step = Step::record_again,
         .applies = is::only_sound_differs},
    Rule{.id = "only-sound-alike",
         .when = "Film or centric marks changed, and the sound is alike.",
         .suggestion = "Trust film and marks, and record again in the same way as before.",
         .why = "An alike sound does not prove equal contact.",
         .source = practice,
         .defers_to = "film and marks",
         .blocks = Blocks::done,
         .step = Step::record_again,
         .applies = is::only_sound_is_alike},
    Rule{.id = "sound-unclear",
         .when = "The sounds cannot be told apart or matched.",
         .suggestion =
             "Record again with more taps, in quiet, with the pick-up where it was; until then go by film and "
             "marks.",
         .why = "An unclear sound says nothing either way.",
         .source = practice,
         .defers_to = "film and marks",
         .blocks = Blocks::done,
         .step = Step::record_again,
         .applies = is::sound_unclear},
};

} // namespace

std::span<const Rule> rules_of_restoration() {
    return restoration;
}

std::span<const Rule> rules_of_sound() {
    return sound;
}

} // namespace retap::chart
