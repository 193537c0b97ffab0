#include "chart/next_conditions.hpp"
#include "chart/next_evidence.hpp"

#include <algorithm>

namespace retap::chart::evidence {

namespace {

void say_of(const Assessment& a, const std::vector<Mark>& marks, bool treated, Numbering numbering, Sentences& said) {
    for (const Mark& mark : marks) {
        if (a.treated(mark.tooth) == treated) {
            said.push_back((treated ? "On the treated tooth: " : "On another tooth: ") +
                           note_of(mark, treated, a.situation.crossbite, numbering).sentence);
        }
    }
}

/// The treated teeth and the others by themselves, then what schools dispute, each once.
Sentences of_stage(const Assessment& a, Stage stage, Numbering numbering) {
    const std::vector<Mark> marks = conditions::open_of(a, stage);
    Sentences said;
    say_of(a, marks, true, numbering, said);
    say_of(a, marks, false, numbering, said);
    for (const Mnemonic& rule : mnemonics()) {
        if (rule.stage == stage) {
            said.push_back("Disputed about " + std::string(rule.letters) + ": " + std::string(rule.disputed));
        }
    }
    said.emplace_back(mnemonic_note());
    return said;
}

} // namespace

Sentences both_stages(const Assessment& a, Numbering numbering) {
    return {"Centric and eccentric marks at the " + list(chart::both_stages(*a.situation.now.marks), numbering) + "."};
}

Sentences working(const Assessment& a, Numbering numbering) {
    return of_stage(a, Stage::working, numbering);
}

Sentences non_working(const Assessment& a, Numbering numbering) {
    return of_stage(a, Stage::non_working, numbering);
}

Sentences protrusive(const Assessment& a, Numbering numbering) {
    return of_stage(a, Stage::protrusive, numbering);
}

Sentences as_before(const Assessment& a, Numbering numbering) {
    Sentences said;
    for (const Mark& mark : a.eccentric_as_before) {
        said.push_back("There before the work as well: " +
                       note_of(mark, false, a.situation.crossbite, numbering).sentence);
    }
    return said;
}

} // namespace retap::chart::evidence
