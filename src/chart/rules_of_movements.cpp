// What marks of sliding movements say, once the closed bite is settled.
#include "chart/next_conditions.hpp"
#include "chart/next_evidence.hpp"
#include "chart/rule_tables.hpp"

#include <array>

namespace retap::chart {

namespace {

namespace is = conditions;
namespace say = evidence;

constexpr std::array movements = {
    Rule{.id = "eccentric-next",
         .when = "Film and centric marks are as before, and eccentric movements were not marked.",
         .suggestion =
             "Mark the eccentric movements with another colour: working, non-working, protrusive; then centric "
             "again over them.",
         .why = "Eccentric contacts are looked at once the centric ones are settled.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::done,
         .step = Step::mark_eccentric,
         .applies = is::eccentric_next},
    Rule{.id = "eccentric-too-early",
         .when = "Eccentric movements were marked, and the centric contacts are not settled.",
         .suggestion = "Leave the eccentric marks for later; settle the centric ones first and mark again.",
         .why = "What changes in centric changes the eccentric contacts as well.",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .applies = is::eccentric_too_early},
    Rule{.id = "both-stages",
         .when = "A place carries a centric and an eccentric mark.",
         .suggestion = "Leave these places alone.",
         .why = "They carry the centric bite.",
         .source = practice,
         .defers_to = supervisor,
         .step = Step::leave_alone,
         .applies = is::marks_with_both_stages,
         .evidence = say::both_stages,
         .marks = [](const Assessment& a) { return both_stages(*a.situation.now.marks); }},
    Rule{.id = "mark-centric-again",
         .when = "Back teeth carry eccentric marks without a centric one, and centric was not marked again over them.",
         .suggestion = "Mark centric again, in its own colour, over the eccentric ones; leave alone what then carries "
                       "both.",
         .why =
             "The second colour hides the first, and a place that carries the closed bite looks like an interference.",
         .source = practice,
         .defers_to = protocol,
         .blocks = Blocks::done,
         .step = Step::mark_centric_again,
         .applies = is::mark_centric_again},
    Rule{.id = "eccentric-first-time",
         .when = "Eccentric marks are looked at for the first time at this visit.",
         .suggestion = "Talk to your supervisor before any of these places is touched.",
         .why = "Marks of movements are often what this patient always had.",
         .source = practice,
         .defers_to = supervisor,
         .step = Step::discuss,
         .applies = is::eccentric_first_time},
    Rule{.id = "working-marks",
         .when = "Centric is settled, and working-side marks lie on back teeth without a centric mark.",
         .suggestion =
             "Consider these, with your supervisor, as possible working-side interferences; the treated tooth "
             "and the others by themselves.",
         .why = "Most schools point at the guiding cusps here (BULL).",
         .source = "Spear Education 2015 and two school glossaries",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::eccentric_working,
         .evidence = say::working,
         .marks = [](const Assessment& a) { return is::open_of(a, Stage::working); }},
    Rule{.id = "non-working-marks",
         .when = "Centric is settled, and non-working-side marks lie on back teeth without a centric mark.",
         .suggestion = "Consider these, with your supervisor, as possible non-working-side interferences; the treated "
                       "tooth and the others by themselves.",
         .why = "Two supporting cusps meet here; which may be touched, or whether any, is taught differently (MUDL, "
                "LUBL).",
         .source = practice,
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::eccentric_non_working,
         .evidence = say::non_working,
         .marks = [](const Assessment& a) { return is::open_of(a, Stage::non_working); }},
    Rule{.id = "protrusive-marks",
         .when = "Centric is settled, and protrusive marks lie on back teeth without a centric mark.",
         .suggestion =
             "Consider these, with your supervisor, as possible protrusive interferences; the treated tooth and "
             "the others by themselves.",
         .why = "Many schools point at distal inclines above and mesial ones below on back teeth (DUML).",
         .source = "from memory, unconfirmed",
         .defers_to = supervisor,
         .blocks = Blocks::done,
         .step = Step::discuss,
         .applies = is::eccentric_protrusive,
         .evidence = say::protrusive,
         .marks = [](const Assessment& a) { return is::open_of(a, Stage::protrusive); }},
    Rule{.id = "eccentric-as-before",
         .when = "Eccentric marks on teeth that were not treated were there before the work as well.",
         .suggestion = "Note that these are as before; whether they matter is for your supervisor to say.",
         .why = "Today's work did not make them.",
         .source = practice,
         .defers_to = supervisor,
         .applies = is::eccentric_as_before,
         .evidence = say::as_before,
         .marks = [](const Assessment& a) { return a.eccentric_as_before; }},
};

} // namespace

std::span<const Rule> rules_of_movements() {
    return movements;
}

} // namespace retap::chart
