#include "chart/next_rules.hpp"

#include "chart/next_conditions.hpp"

#include <array>

namespace retap::chart {

namespace {

namespace is = conditions;

constexpr std::string_view supervisor = "your supervising clinician";

// Rows rest on common practice, no source, except where film grips (Harper and Setchell 2002), mark size (Carey 2007),
// the sense of thickness (Enkling 2010: 50 % point 14 um) and posture and effort in sound (Zhang 2014) are named.
constexpr std::array rules = {
    Rule{"no-baseline", "Nothing has been recorded before the work.",
         "Before the work starts, chart the film holds and the centric marks and record the sound.",
         "Afterwards nothing can be compared with a bite that was not recorded.", "the clinic's own protocol",
         is::no_baseline},
    Rule{"baseline-incomplete", "Something of the baseline is missing and the work has not been checked yet.",
         "Complete the baseline before the work starts.",
         "The three checks support each other; each can only be compared with itself.", "the clinic's own protocol",
         is::baseline_incomplete, is::say_missing_before},
    Rule{"few-holds", "Fewer than four pairs held film before the work.",
         "Raise it with your supervisor before restoring, and consider an occlusal analysis first.",
         "Load should rest on many teeth; a new restoration would be fitted to a bite that rests on few.", supervisor,
         is::few_holds_at_baseline, is::say_spread},
    Rule{"one-sided-holds", "One side was tested before the work and did not hold at all.",
         "Raise it with your supervisor before restoring, and consider an occlusal analysis first.",
         "Load should rest on both sides; a new restoration would be fitted to a bite that rests on one.", supervisor,
         is::one_sided_at_baseline, is::say_spread},
    Rule{"baseline-complete",
         "Film holds, centric marks and sound are recorded before the work, and the holds are spread.",
         "The baseline is complete. After the work do film, centric marks and sound first, with the pick-up, the seat "
         "and "
         "the effort as they were.",
         "A moved pick-up, posture or effort changes the sound by itself.", "the clinic's own protocol",
         is::baseline_complete},
    Rule{"baseline-lost", "The restoration is in, and part of the baseline was never recorded.",
         "Judge what has no baseline by the other teeth, say so in the record, and tell your supervisor.",
         "Without a before there is no telling what the work changed.", supervisor, is::baseline_lost,
         is::say_missing_before},
    Rule{"checks-first", "After the work, film, centric marks or sound are still missing.",
         "Do film, centric marks and sound first, and only then ask the patient.",
         "The three checks do not depend on feeling; what the patient says is easier to judge beside them.",
         "the clinic's own protocol", is::checks_missing, is::say_missing_now},
    Rule{"holds-untested", "Pairs that were tested with film before were not tested now.",
         "Test the same pairs again before judging.", "A pair that was not tested is neither kept nor lost.",
         "the film itself", is::holds_left_untested, is::say_untested},
    Rule{"other-side-changed", "Holds or marks changed on the side that was not treated.",
         "Let the patient rest, close a few times in the usual bite, and repeat film and marks before judging.",
         "Either the jaw closes elsewhere, or the restoration keeps the other side apart.", supervisor,
         is::other_side_changed, is::say_other_side},
    Rule{
        "restoration-high", "Holds were lost away from the restoration, or a mark on it stands out from the rest.",
        "Consider, with your supervisor, whether the restoration is high; repeat all three checks after any "
        "adjustment.",
        "A high spot keeps other teeth apart and takes the paper first. A different sound supports it. Mark size alone "
        "is no measure of load.",
        supervisor, is::restoration_high, is::say_high_signs},
    Rule{"no-stop", "The restoration carries no centric stop, and the tooth was not known to be without one before.",
         "Consider, with your supervisor, that the restoration is likely out of contact.",
         "Without a stop the tooth may move until it meets its opponent.", supervisor, is::no_stop, is::say_no_stop},
    Rule{"no-stop-as-before", "The restoration carries no centric stop, and the tooth had none before.",
         "Note that this is as before; whether the tooth should have had a stop is for your supervisor to say.",
         "The work changed nothing here.", supervisor, is::no_stop_as_before, is::say_no_stop_as_before},
    Rule{"incline-only", "The restoration is touched on an incline only.",
         "Consider, with your supervisor, whether the contact should be a stop instead.",
         "A contact on an incline pushes the tooth sideways and may guide the jaw off its closing path.", supervisor,
         is::incline_only, is::say_incline_only},
    Rule{"light-on-restoration", "The treated tooth no longer holds film, and all other holds are kept.",
         "Consider, with your supervisor, that the restoration may be light; look at its marks.",
         "Film slips from about 8 micrometres on: the tooth may be just short of its opponent.", supervisor,
         is::hold_lost_on_treated, is::say_lost_on_treated},
    Rule{"changed-otherwise",
         "Film or centric marks changed in a way that points neither to a high nor to a light restoration.",
         "Repeat film and marks once; if the change stays, show it to your supervisor.",
         "Paper and film vary with moisture, force and the way the patient closes.", supervisor, is::changed_otherwise,
         is::say_changes},
    Rule{"only-sound-differs", "Film and centric marks are as before, and the sound is different.",
         "Trust film and marks, and record again: same seat, same place of the pick-up, same effort, the first taps "
         "left out.",
         "A moved pick-up, posture, effort or the first taps change the sound; film and marks stand before it.",
         "film and marks", is::only_sound_differs},
    Rule{"only-sound-alike", "Film or centric marks changed, and the sound is alike.",
         "Trust film and marks, and record again in the same way as before.",
         "An alike sound does not prove equal contact.", "film and marks", is::only_sound_is_alike},
    Rule{"sound-unclear", "The sounds cannot be told apart or matched.",
         "Record again with more taps, in quiet, with the pick-up where it was; until then go by film and marks.",
         "An unclear sound says nothing either way.", "film and marks", is::sound_unclear},
    Rule{"ask-the-patient", "Film, centric marks and sound are done, and the patient was not asked yet.",
         "Ask the patient how the bite feels, and note whether they are numb.",
         "The patient's account comes after the checks that do not depend on feeling.", "the patient",
         is::ask_the_patient},
    Rule{"numb-or-not", "The patient was asked, and whether they are numb is not noted.",
         "Note whether the patient is numb.", "A numb patient is a weaker judge of a high bite.",
         "the clinic's own protocol", is::numbness_not_noted},
    Rule{"high-while-numb", "All checks are as before, and the patient, still numb, feels it high.",
         "Usually wait: change nothing, and recheck on another day, about 24 hours on, when feeling is back.",
         "Numbness dulls the sense of thickness, and a bite that was right would be changed for good.", supervisor,
         is::high_while_numb},
    Rule{"high-and-not-numb", "The patient is not numb and feels it high.",
         "Take it seriously: repeat film and centric marks, then eccentric ones, with fresh paper and dry teeth. "
         "Consider the findings with your supervisor.",
         "Many people feel steps near 15 micrometres, less than film and paper show.", supervisor,
         is::high_and_not_numb},
    Rule{"feels-different", "The patient says it feels different, but not high.",
         "Write down their words, and go over the three checks with your supervisor.",
         "A bite can feel different for reasons that none of the checks sees.", supervisor, is::feels_different},
    Rule{"eccentric-next", "Film and centric marks are as before, and eccentric movements were not marked.",
         "Mark the eccentric movements with another colour: working, non-working, protrusive.",
         "Eccentric contacts are looked at once the centric ones are settled.", "the clinic's own protocol",
         is::eccentric_next},
    Rule{"eccentric-too-early", "Eccentric movements were marked, and the centric contacts are not settled.",
         "Leave the eccentric marks for later; settle the centric ones first and mark again.",
         "What changes in centric changes the eccentric contacts as well.", supervisor, is::eccentric_too_early},
    Rule{"both-stages", "A place carries a centric and an eccentric mark.", "Leave these places alone.",
         "They carry the centric bite.", supervisor, is::marks_with_both_stages, is::say_both_stages},
    Rule{"working-inclines",
         "Centric is settled, and working-side marks lie on inclines of back teeth without a centric mark.",
         "Consider these, with your supervisor, as possible working-side interferences.",
         "Most schools point at the guiding cusps here (BULL).", supervisor, is::eccentric_working, is::say_working},
    Rule{"non-working-inclines",
         "Centric is settled, and non-working-side marks lie on inclines of back teeth without a centric mark.",
         "Consider these, with your supervisor, as possible non-working-side interferences.",
         "Two supporting cusps meet here; which may be touched at all is taught differently.", supervisor,
         is::eccentric_non_working, is::say_non_working},
    Rule{"protrusive-inclines",
         "Centric is settled, and protrusive marks lie on inclines of back teeth without a centric mark.",
         "Consider these, with your supervisor, as possible protrusive interferences.",
         "Many schools point at distal inclines above and mesial ones below on back teeth (DUML).", supervisor,
         is::eccentric_protrusive, is::say_protrusive},
    Rule{"comfortable-while-numb", "All checks are as before, and the patient, still numb, is comfortable.",
         "Usually enough for today; ask again when feeling is back.", "A numb patient is a weaker judge.", supervisor,
         is::comfortable_while_numb},
    Rule{"done", "All checks are as before, and the patient, not numb, is comfortable.",
         "Usually done: show it to your supervisor and have the visit signed.",
         "Film, marks, sound and the patient agree.", supervisor, is::done},
};

} // namespace

std::span<const Rule> next_rules() {
    return rules;
}

std::vector<Advice> next_steps(const Assessment& assessment, Numbering numbering) {
    std::vector<Advice> steps;
    for (const Rule& rule : rules) {
        if (rule.applies(assessment)) {
            steps.push_back(
                {&rule, rule.evidence == nullptr ? std::vector<std::string>{} : rule.evidence(assessment, numbering)});
        }
    }
    return steps;
}

} // namespace retap::chart
