// What is asked for before anything is concluded: the baseline, open questions, the checks themselves, the flags.
#include "chart/next_conditions.hpp"
#include "chart/next_evidence.hpp"
#include "chart/rule_tables.hpp"

#include <array>

namespace retap::chart {

namespace {

namespace is = conditions;
namespace say = evidence;

constexpr std::array baseline = {
    Rule{.id = "waiting",
         .when = "It was decided at this look to wait.",
         .suggestion = "Change nothing today. Recheck on another day, about 24 hours on, when feeling is back: film, "
                       "centric marks, sound, and then the patient.",
         .why = "What was decided holds until the next look; a bite is judged with feeling and by all checks.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::recheck,
         .applies = is::decided_to_wait},
    Rule{.id = "changed-since",
         .when = "It was decided at this look to adjust.",
         .suggestion = "Begin a new look: repeat film, centric marks and sound, all three.",
         .why = "What was charted at this look is no longer the bite that the patient has.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::new_look,
         .applies = is::decided_to_adjust},
    Rule{.id = "no-baseline",
         .when = "Nothing has been recorded before the work.",
         .suggestion = "Before the work starts, chart the film holds and the centric marks and record the sound.",
         .why = "Afterwards nothing can be compared with a bite that was not recorded.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::work,
         .step = Step::chart_holds,
         .applies = is::no_baseline},
    Rule{.id = "baseline-incomplete",
         .when = "Something of the baseline is missing and the work has not been checked yet.",
         .suggestion = "Complete the baseline before the work starts: both sides, and every pair that can be tested.",
         .why = "The three checks support each other, each can only be compared with itself, and a pair that was not "
                "tried can be neither kept nor lost.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::work,
         .applies = is::baseline_incomplete,
         .evidence = say::missing_before,
         .step_now = is::next_of_baseline},
};

constexpr std::array checks = {
    Rule{.id = "place-not-said",
         .when = "A mark on a treated tooth is not said to be on the restoration or beside it.",
         .suggestion = "Say of each of these marks whether it lies on the restoration (*) or beside it (~).",
         .why = "Whether the restoration is in contact, or out of it, depends on nothing else; it is not assumed.",
         .source = practice,
         .defers_to = "whoever sees the tooth",
         .blocks = Blocks::judgement,
         .step = Step::ask_mark_place,
         .applies = is::place_not_said,
         .evidence = say::place_not_said,
         .marks = [](const Assessment& a) { return a.changes.place_not_said; }},
    Rule{.id = "crossbite-or-not",
         .when =
             "Centric marks sit on guiding cusps of a tooth, none on a supporting one, and nobody said whether it is "
             "in crossbite.",
         .suggestion =
             "Look whether these teeth meet in crossbite, and say so, or say none and look at the marks again.",
         .why = "In crossbite the roles of the cusps turn round, and with them what counts as a stop.",
         .source = "cusp roles: two school texts; that they turn round: from memory, unconfirmed",
         .defers_to = supervisor,
         .blocks = Blocks::judgement,
         .step = Step::ask_crossbite,
         .applies = is::crossbite_or_not,
         .evidence = say::maybe_crossbite,
         .marks = [](const Assessment& a) { return a.maybe_crossbite; }},
    Rule{.id = "checks-first",
         .when = "After the work, film, centric marks or sound are still missing.",
         .suggestion = "Do film, centric marks and sound first, and only then ask the patient.",
         .why = "The three checks do not depend on feeling; what the patient says is easier to judge beside them.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::judgement,
         .applies = is::checks_missing,
         .evidence = say::missing_now,
         .step_now = is::next_of_checks},
    Rule{.id = "sound-not-compared",
         .when = "Both sounds are recorded, and they were not compared.",
         .suggestion = "Compare the sound of this look with that of the baseline.",
         .why = "Two recordings that nobody compared say nothing.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::done,
         .step = Step::compare_sound,
         .applies = is::sound_not_compared},
    Rule{.id = "holds-untested",
         .when = "Pairs that were tested with film before were not tested now.",
         .suggestion = "Test the same pairs again before judging.",
         .why = "A pair that was not tested is neither kept nor lost.",
         .source = practice,
         .defers_to = "the film itself",
         .blocks = Blocks::judgement,
         .step = Step::test_pairs,
         .applies = is::holds_left_untested,
         .evidence = say::untested},
    Rule{.id = "checks-contradict",
         .when = "Two of the checks cannot both be right.",
         .suggestion = "Look again, in the order that is given here, before anything is concluded from either.",
         .why =
             "A wet tooth, a moved pick-up or another way of closing spoils one check and leaves the others; film and "
             "marks stand before the sound.",
         .source = practice,
         .defers_to = "film and marks",
         .blocks = Blocks::judgement,
         .applies = is::checks_contradict,
         .evidence = say::contradicting,
         .step_now = is::look_again_first},
    Rule{.id = "other-side-changed",
         .when = "Holds or marks changed on the side that was not treated.",
         .suggestion = "Let the patient rest, close a few times in the usual bite, and repeat film and marks before "
                       "judging.",
         .why = "Either the jaw closes elsewhere, or the restoration keeps the other side apart.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::judgement,
         .step = Step::rest_and_repeat,
         .applies = is::other_side_changed,
         .evidence = say::other_side},
};

constexpr std::array flags = {
    Rule{.id = "few-holds",
         .when = "None, or fewer than four, of the pairs that were tested before the work held film.",
         .suggestion =
             "Raise it with your supervisor before restoring, or before anything else is done, and consider an "
             "occlusal analysis first; note with whom it was raised and what was decided.",
         .why = "Load should rest on many teeth; a restoration is fitted to a bite that rests on few.",
         .source = "common practice, no source; about seven contacts a side are usual (Korioth 1990, J Prosthet Dent "
                   "64:206-210)",
         .defers_to = supervisor,
         .blocks = Blocks::work,
         .step = Step::raise_warning,
         .applies = is::few_holds_at_baseline,
         .evidence = say::spread},
    Rule{.id = "one-sided-holds",
         .when = "One side was tested before the work and did not hold at all.",
         .suggestion =
             "Raise it with your supervisor before restoring, or before anything else is done, and consider an "
             "occlusal analysis first; note with whom it was raised and what was decided.",
         .why = "Load should rest on both sides; a restoration is fitted to a bite that rests on one.",
         .source = "common practice, no source; unequal sides are usual (Korioth 1990), a side without any is not",
         .defers_to = supervisor,
         .blocks = Blocks::work,
         .step = Step::raise_warning,
         .applies = is::one_sided_at_baseline,
         .evidence = say::spread},
    Rule{.id = "warning-open",
         .when = "A warning sign was noted, and nobody was told of it or nothing was decided.",
         .suggestion = "Raise it with your supervisor, and note what was decided.",
         .why = "A sign that was seen and not talked over is as good as not seen.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::work,
         .step = Step::raise_warning,
         .applies = is::warning_open,
         .evidence = say::warnings_open},
    Rule{.id = "warning-noted",
         .when = "Warning signs were raised and decided.",
         .suggestion = "Keep in mind what was decided about them.",
         .why = "The bite that the restoration was fitted to had them.",
         .source = practice,
         .defers_to = supervisor,
         .applies = [](const Assessment& a) { return !say::warnings_settled(a, Numbering::iso).empty(); },
         .evidence = say::warnings_settled},
    Rule{.id = "baseline-lost",
         .when = "The restoration is in, and part of the baseline was never recorded.",
         .suggestion = "Judge what has no baseline by the other teeth, say so in the record, and tell your supervisor.",
         .why = "Without a before there is no telling what the work changed.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .applies = is::baseline_lost,
         .evidence = say::missing_before},
};

} // namespace

std::span<const Rule> rules_of_baseline() {
    return baseline;
}

std::span<const Rule> rules_of_checks() {
    return checks;
}

std::span<const Rule> rules_of_flags() {
    return flags;
}

} // namespace retap::chart
