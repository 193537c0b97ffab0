#include "chart/next_evidence.hpp"

#include "chart/next_conditions.hpp"
#include "chart/words.hpp"

namespace retap::chart::evidence {

namespace {

template <class Matches>
std::vector<Tooth> teeth_where(const Assessment& a, Matches matches) {
    std::vector<Tooth> teeth;
    for (const TreatedTooth& treated : a.changes.treated) {
        if (matches(treated)) {
            teeth.push_back(treated.tooth);
        }
    }
    return teeth;
}

std::vector<Tooth> teeth_with(const Assessment& a, Support after) {
    return teeth_where(a, [after](const TreatedTooth& t) { return t.after == after; });
}

std::string warning_text(const Warning& warning) {
    std::string text = plain_warning(warning.about);
    text += ": " + (warning.raised_with.empty() ? std::string("not raised with anybody")
                                                : "raised with " + warning.raised_with);
    return text + (warning.decided.empty() ? ", nothing decided" : ", decided: " + warning.decided) + ".";
}

Sentences warnings(const Assessment& a, bool settled) {
    Sentences said;
    for (const Warning& warning : a.situation.warnings) {
        if (warning.settled() == settled) {
            said.push_back("Seen: " + warning_text(warning));
        }
    }
    return said;
}

} // namespace

Sentences missing_before(const Assessment& a, Numbering numbering) {
    Sentences said;
    if (const auto lacks = a.situation.missing_before(); !lacks.empty()) {
        said.push_back("Not recorded before the work: " + join_with_and(lacks) + ".");
    }
    if (!a.baseline_left.empty()) {
        said.push_back("Film was not tried before the work at " + list(a.baseline_left, numbering) +
                       "; what cannot be tested is noted as untestable.");
    }
    return said;
}

Sentences missing_now(const Assessment& a, Numbering /*numbering*/) {
    return {"Still to do at this look: " + join_with_and(a.situation.missing_now()) + "."};
}

Sentences spread(const Assessment& a, Numbering /*numbering*/) {
    return {sentence(*a.baseline_spread)};
}

Sentences warnings_open(const Assessment& a, Numbering /*numbering*/) {
    return warnings(a, false);
}

Sentences warnings_settled(const Assessment& a, Numbering /*numbering*/) {
    return warnings(a, true);
}

Sentences place_not_said(const Assessment& a, Numbering numbering) {
    return {"Not said: " + list(a.changes.place_not_said, numbering) + "."};
}

Sentences maybe_crossbite(const Assessment& a, Numbering numbering) {
    return {"Centric marks on guiding cusps, and none on a supporting one: " + list(a.maybe_crossbite, numbering) +
            "."};
}

Sentences untested(const Assessment& a, Numbering numbering) {
    return {"Tested before and not now: " + list(a.changes.holds_untested, numbering) + "."};
}

Sentences other_side(const Assessment& a, Numbering /*numbering*/) {
    return {"Changed on the " + std::string(word(*a.changes.other_side_changed)) + " side."};
}

Sentences contradicting(const Assessment& a, Numbering numbering) {
    Sentences said;
    for (const Contradiction& contradiction : contradictions(a, numbering)) {
        said.push_back(contradiction.sentence + " " + std::string(contradiction.first));
    }
    return said;
}

Sentences high_signs(const Assessment& a, Numbering numbering) {
    Sentences said;
    if (!a.changes.holds_lost_elsewhere.empty()) {
        said.push_back("Lost elsewhere: the hold at " + list(a.changes.holds_lost_elsewhere, numbering) + ".");
    }
    const auto heavy = teeth_where(a, [](const TreatedTooth& t) { return t.heavier; });
    if (!heavy.empty()) {
        said.push_back("A mark stands out on the restoration of " + list(heavy, numbering) + ".");
    }
    if (a.situation.sound && a.situation.sound->first_contact == FirstContact::earlier) {
        said.emplace_back("In the sound the first contact leads earlier as well.");
    } else if (a.situation.sound == compare::Verdict::different) {
        said.emplace_back("The sound is different as well.");
    }
    return said;
}

Sentences treated_mark_gone(const Assessment& a, Numbering numbering) {
    return {"Marked before and not now: " + list(a.changes.treated_marks_gone, numbering) + "."};
}

Sentences no_stop(const Assessment& a, Numbering numbering) {
    const auto teeth = teeth_where(a, conditions::lacks_stop);
    Sentences said = {"No centric stop on the restoration of " + list(teeth, numbering) + ", and none beside it."};
    for (const TreatedTooth& treated : a.changes.treated) {
        if (conditions::lacks_stop(treated) && treated.before == Support::not_marked) {
            said.push_back("Whether " + name(treated.tooth, numbering) + " had a stop before was not charted.");
        }
    }
    return said;
}

Sentences stop_beside(const Assessment& a, Numbering numbering) {
    return {"No centric stop on the restoration, and one beside it: " +
            list(teeth_where(a, conditions::keeps_stop_beside), numbering) + "."};
}

Sentences no_stop_as_before(const Assessment& a, Numbering numbering) {
    return {"No centric stop before and none now: " +
            list(teeth_where(a, conditions::lacks_stop_as_before), numbering) + "."};
}

Sentences incline_only(const Assessment& a, Numbering numbering) {
    return {"Contact on an incline only: the restoration of " + list(teeth_with(a, Support::incline_only), numbering) +
            "."};
}

Sentences guiding_only(const Assessment& a, Numbering numbering) {
    return {"Contact on a guiding cusp only: the restoration of " +
            list(teeth_with(a, Support::guiding_only), numbering) + "."};
}

Sentences lost_on_treated(const Assessment& a, Numbering numbering) {
    return {"The hold is gone at " + list(a.changes.holds_lost_on_treated, numbering) + ", and nowhere else."};
}

Sentences changes(const Assessment& a, Numbering numbering) {
    return sentences(a.changes, numbering);
}

} // namespace retap::chart::evidence
