#include "chart/contradictions.hpp"

#include "chart/situation.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

constexpr std::string_view marks_first =
    "Look again first: fresh thin paper on dry teeth at the treated tooth, then film there; then record again.";
constexpr std::string_view film_first =
    "Look again first: film at the treated tooth and its neighbours, pulled in the same direction; then paper.";
constexpr std::string_view sound_last =
    "Look again first: film and paper once more; then record again, the pick-up, the seat and the effort as before.";

std::vector<Tooth> standing_out(const Assessment& a) {
    std::vector<Tooth> teeth;
    for (const TreatedTooth& treated : a.changes.treated) {
        if (treated.heavier) {
            teeth.push_back(treated.tooth);
        }
    }
    return teeth;
}

/// Pairs of a treated tooth that hold, though centric paper left nothing on that tooth.
std::vector<TeethPair> held_without_mark(const Assessment& a) {
    std::vector<TeethPair> pairs;
    const auto& now = a.situation.now;
    if (!now.holds || !now.marks || !now.marks->has_stage(Stage::centric)) {
        return pairs;
    }
    const std::vector<Mark> centric = now.marks->of(Stage::centric);
    for (const Tooth tooth : a.situation.treated) {
        const bool marked =
            std::any_of(centric.begin(), centric.end(), [tooth](const Mark& mark) { return mark.tooth == tooth; });
        for (const auto& [pair, film] : *now.holds) {
            if (film == Film::hold && pair.has(tooth) && !marked) {
                pairs.push_back(pair);
            }
        }
    }
    return pairs;
}

/// Pairs of a treated tooth on whose restoration a mark stands out, though film does not hold there at all.
std::vector<TeethPair> marked_without_hold(const Assessment& a) {
    std::vector<TeethPair> pairs;
    if (!a.situation.now.holds) {
        return pairs;
    }
    for (const Tooth tooth : standing_out(a)) {
        bool held = false;
        std::vector<TeethPair> open;
        for (const auto& [pair, film] : *a.situation.now.holds) {
            if (pair.has(tooth) && film != Film::untestable) {
                held = held || film == Film::hold;
                open.push_back(pair);
            }
        }
        if (!held) {
            pairs.insert(pairs.end(), open.begin(), open.end());
        }
    }
    return pairs;
}

} // namespace

std::vector<Contradiction> contradictions(const Assessment& a, Numbering numbering) {
    std::vector<Contradiction> found;
    if (!a.situation.restored) {
        return found;
    }
    const auto& sound = a.situation.sound;
    const bool leads = sound && sound->first_contact == FirstContact::earlier;
    if (a.looks_light && leads) {
        found.push_back({"light-but-leads",
                         "Film or paper say that the restoration is short of contact, and in the sound the first "
                         "contact leads earlier, as a high spot would.",
                         marks_first, Step::look_at_marks});
    }
    if (a.looks_high && sound == compare::Verdict::alike) {
        found.push_back({"high-but-alike", "Film or paper point at a high restoration, and the sound is alike.",
                         sound_last, Step::repeat_checks});
    } else if (a.film_or_marks_differ && sound == compare::Verdict::alike) {
        found.push_back({"changed-but-alike", "Film or centric marks changed, and the sound is alike.", sound_last,
                         Step::repeat_checks});
    }
    if (a.centric_settled && sound == compare::Verdict::different) {
        found.push_back({"as-before-but-different", "Film and centric marks are as before, and the sound is different.",
                         sound_last, Step::repeat_checks});
    } else if (a.centric_settled && leads) {
        found.push_back({"as-before-but-leads",
                         "Film and centric marks are as before, and in the sound the first contact leads earlier.",
                         sound_last, Step::repeat_checks});
    }
    if (const auto pairs = held_without_mark(a); !pairs.empty()) {
        found.push_back({"hold-without-mark",
                         "Film holds at " + list(pairs, numbering) + ", and paper shows no mark on the treated tooth.",
                         marks_first, Step::look_at_marks});
    }
    if (const auto pairs = marked_without_hold(a); !pairs.empty()) {
        found.push_back(
            {"mark-without-hold",
             "A mark stands out on the restoration, and film does not hold at " + list(pairs, numbering) + ".",
             film_first, Step::look_at_film});
    }
    if (!a.changes.holds_lost_elsewhere.empty() && !a.changes.holds_lost_on_treated.empty()) {
        found.push_back({"lost-here-and-there",
                         "Film is lost elsewhere, as by a high restoration, and at the treated tooth as well (" +
                             list(a.changes.holds_lost_on_treated, numbering) + "), as by a light one.",
                         film_first, Step::look_at_film});
    }
    return found;
}

} // namespace retap::chart
