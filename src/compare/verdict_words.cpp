#include "compare/verdict_words.hpp"

#include "compare/plain_words.hpp"

#include <algorithm>
#include <utility>

namespace retap::compare {
namespace {

bool spoke(const Decision& decision, EvidenceKind kind) {
    return std::ranges::any_of(decision.evidence, [&](const Evidence& e) { return e.kind == kind && e.spoke; });
}

/// What spoke, in a sentence each, the ones that say most first.
std::vector<std::string> spoken(const Decision& decision) {
    std::vector<std::string> sentences;
    const MeasureComparison* first = measure_named(decision.measures, word(EvidenceKind::first_sound));
    if (first != nullptr && first->finding == Finding::beyond) {
        sentences.push_back(first->plain);
    }
    if (spoke(decision, EvidenceKind::later_contacts)) {
        sentences.push_back(plain_later_contacts(decision.contacts));
    }
    if (decision.level && spoke(decision, EvidenceKind::level)) {
        sentences.push_back(plain_level(*decision.level));
    }
    if (spoke(decision, EvidenceKind::landing)) {
        sentences.emplace_back("The contacts land less alike than those of one bite usually do.");
    }
    if (spoke(decision, EvidenceKind::energy_profile)) {
        sentences.emplace_back("The sound of a tap swells and fades less alike than that of one bite usually does.");
    }
    return sentences;
}

std::vector<std::string> what_would_settle(const Decision& decision, const Grounds& grounds) {
    std::vector<std::string> reasons;
    if (decision.level && decision.finding == Finding::beyond) {
        reasons.emplace_back("Record once more, tapping as before: a second take that is as soft says that it is not "
                             "the tapping.");
    }
    if (grounds.taps < 12) {
        reasons.emplace_back("More taps would settle it: record 12 or more on each side, same seat, same effort.");
    }
    if (grounds.snr_db < 34.0 || !grounds.deep_enough) {
        reasons.emplace_back(
            "A quieter room would help: suction and handpiece off, or the pick-up pressed more firmly.");
    }
    if (!grounds.repeated) {
        reasons.emplace_back("A second take after, with the pick-up taken off and put back, tells chance from change.");
    }
    return reasons;
}

} // namespace

std::string verdict_sentence(Verdict verdict) {
    switch (verdict) {
    case Verdict::alike:
        return "The bite sounds alike before and after.";
    case Verdict::different:
        return "The bite sounds different after.";
    case Verdict::unclear:
        break;
    }
    return "It is unclear whether the bite sounds alike.";
}

std::vector<std::string> verdict_reasons(Verdict verdict, const Decision& decision, const Grounds& grounds) {
    if (verdict == Verdict::alike) {
        return {"The taps after differ from those before no more than taps of one bite differ from each other.",
                "Alike in sound does not prove equal contact: check film and marks as well."};
    }
    std::vector<std::string> reasons = spoken(decision);
    if (verdict == Verdict::different) {
        reasons.emplace(reasons.begin(), "The taps after differ from those before more than taps of one bite do.");
        reasons.emplace_back("A difference in sound does not show where it comes from: look at film and marks. A "
                             "changed posture or effort, or the first taps of a run, can sound different too.");
        return reasons;
    }
    if (grounds.dull) {
        reasons.emplace(reasons.begin(), "These taps are too dull to show contacts that land apart: seat the pick-up "
                                         "firmly on skin over bone, and record again.");
    } else if (!grounds.deep_enough) {
        reasons.emplace(reasons.begin(),
                        "A light first contact, such as a high spot makes, would be lost in the noise of these taps.");
    } else {
        reasons.emplace(reasons.begin(),
                        "The difference is near the limit of what taps of one bite can show by chance.");
    }
    for (std::string& reason : what_would_settle(decision, grounds)) {
        reasons.push_back(std::move(reason));
    }
    return reasons;
}

std::vector<std::string> same_sound_reasons() {
    return {"Before and after hold the same recording, and a recording is always like itself. Choose the take of the "
            "other side, or record it."};
}

std::vector<std::string> softer_reasons(const LevelEvidence& level) {
    return {plain_level(level),
            "They are too soft to be measured beside the others. Tap as before and record again: when the second take "
            "is as soft, one tooth may be stopping the jaw; look at film and marks."};
}

} // namespace retap::compare
