#include "chart/mnemonics.hpp"
#include "chart/next_conditions.hpp"
#include "chart/words.hpp"

namespace retap::chart::conditions {

namespace {

std::vector<Tooth> teeth_where(const Assessment& a, bool (*matches)(const TreatedTooth&)) {
    std::vector<Tooth> teeth;
    for (const TreatedTooth& treated : a.changes.treated) {
        if (matches(treated)) {
            teeth.push_back(treated.tooth);
        }
    }
    return teeth;
}

Sentences eccentric_sentences(const Assessment& a, Stage stage, Numbering numbering) {
    Sentences said;
    for (const Mark& mark : eccentric_only(*a.situation.now.marks, stage)) {
        said.push_back(sentence_for(mark, numbering));
    }
    said.emplace_back(mnemonic_note());
    return said;
}

} // namespace

Sentences say_missing_before(const Assessment& a, Numbering /*numbering*/) {
    return {"Not recorded before the work: " + join_with_and(a.situation.missing_before()) + "."};
}

Sentences say_missing_now(const Assessment& a, Numbering /*numbering*/) {
    return {"Still to do at this look: " + join_with_and(a.situation.missing_now()) + "."};
}

Sentences say_spread(const Assessment& a, Numbering /*numbering*/) {
    return {sentence(*a.baseline_spread)};
}

Sentences say_untested(const Assessment& a, Numbering numbering) {
    return {"Tested before and not now: " + list(a.changes.holds_untested, numbering) + "."};
}

Sentences say_other_side(const Assessment& a, Numbering /*numbering*/) {
    return {"Changed on the " + std::string(word(*a.changes.other_side_changed)) + " side."};
}

Sentences say_high_signs(const Assessment& a, Numbering numbering) {
    Sentences said;
    if (!a.changes.holds_lost_elsewhere.empty()) {
        said.push_back("Lost elsewhere: the hold at " + list(a.changes.holds_lost_elsewhere, numbering) + ".");
    }
    const auto heavy = teeth_where(a, [](const TreatedTooth& t) { return t.heavier; });
    if (!heavy.empty()) {
        said.push_back("A mark stands out on the restoration of " + list(heavy, numbering) + ".");
    }
    if (a.situation.sound == compare::Verdict::different) {
        said.emplace_back("The sound is different as well.");
    }
    return said;
}

Sentences say_no_stop(const Assessment& a, Numbering numbering) {
    const auto teeth =
        teeth_where(a, [](const TreatedTooth& t) { return t.after == Support::none && t.before != Support::none; });
    Sentences said = {"No centric stop on the restoration of " + list(teeth, numbering) + "."};
    for (const TreatedTooth& treated : a.changes.treated) {
        if (treated.after == Support::none && treated.before == Support::not_marked) {
            said.push_back("Whether " + name(treated.tooth, numbering) + " had a stop before was not charted.");
        }
    }
    return said;
}

Sentences say_no_stop_as_before(const Assessment& a, Numbering numbering) {
    const auto teeth =
        teeth_where(a, [](const TreatedTooth& t) { return t.after == Support::none && t.before == Support::none; });
    return {"No centric stop before and none now: " + list(teeth, numbering) + "."};
}

Sentences say_incline_only(const Assessment& a, Numbering numbering) {
    const auto teeth = teeth_where(a, [](const TreatedTooth& t) { return t.after == Support::incline_only; });
    return {"Contact on an incline only: the restoration of " + list(teeth, numbering) + "."};
}

Sentences say_lost_on_treated(const Assessment& a, Numbering numbering) {
    return {"The hold is gone at " + list(a.changes.holds_lost_on_treated, numbering) + ", and nowhere else."};
}

Sentences say_changes(const Assessment& a, Numbering numbering) {
    return sentences(a.changes, numbering);
}

Sentences say_both_stages(const Assessment& a, Numbering numbering) {
    return {"Centric and eccentric marks at the " + list(both_stages(*a.situation.now.marks), numbering) + "."};
}

Sentences say_working(const Assessment& a, Numbering numbering) {
    return eccentric_sentences(a, Stage::working, numbering);
}

Sentences say_non_working(const Assessment& a, Numbering numbering) {
    return eccentric_sentences(a, Stage::non_working, numbering);
}

Sentences say_protrusive(const Assessment& a, Numbering numbering) {
    return eccentric_sentences(a, Stage::protrusive, numbering);
}

} // namespace retap::chart::conditions
