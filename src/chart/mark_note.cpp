#include "chart/mark_note.hpp"

#include "chart/words.hpp"

namespace retap::chart {

namespace {

/// To which side the jaw slid: the working side is where it goes.
std::string movement_of(const Mark& mark) {
    switch (mark.stage) {
    case Stage::working:
        return "sliding to the " + std::string(word(mark.tooth.side()));
    case Stage::non_working:
        return "sliding to the " + std::string(word(opposite(mark.tooth.side())));
    case Stage::protrusive:
        return "sliding forward";
    case Stage::centric:
        break;
    }
    return "closing straight";
}

std::string where_of(const Mark& mark) {
    switch (mark.stage) {
    case Stage::working:
        return "working side";
    case Stage::non_working:
        return "non-working side";
    case Stage::protrusive:
        return "protrusion";
    case Stage::centric:
        break;
    }
    return "centric";
}

std::string joined(const std::vector<std::string_view>& letters) {
    return join_with_and({letters.begin(), letters.end()});
}

std::string rules_say(const MarkNote& note) {
    if (note.mark.stage == Stage::centric) {
        return note.stop ? "it carries the centric bite" : "centric marks are settled first";
    }
    if (!note.named_by.empty()) {
        const bool many = note.named_by.size() > 1;
        const std::string also = note.not_named_by.empty() ? "" : "; " + joined(note.not_named_by) + " does not";
        return joined(note.named_by) + (many ? " name it" : " names it") + also;
    }
    if (!has_inclines(note.mark.place.spot)) {
        return "no letter rule names a fossa or a ridge; the cusp of the other tooth that meets it may be named";
    }
    return joined(note.not_named_by) + (note.not_named_by.size() > 1 ? " do" : " does") +
           " not name it; the place it meets on the other tooth may be named";
}

} // namespace

MarkNote note_of(const Mark& mark, bool treated, const Crossbite& crossbite, Numbering numbering) {
    MarkNote note{mark};
    note.treated = treated;
    note.side = mark.tooth.side();
    note.role = role(mark.tooth, mark.place.spot, crossbite);
    note.crossbite = note.role && crossbite.turns(mark.tooth);
    note.stop = is_stop(mark, crossbite);
    note.movement = movement_of(mark);
    note.where = where_of(mark);
    for (const Mnemonic& rule : mnemonics()) {
        if (rule.stage == mark.stage && !mark.tooth.front()) {
            (names(rule, mark, crossbite) ? note.named_by : note.not_named_by).push_back(rule.letters);
            note.disputed +=
                (note.disputed.empty() ? "" : " ") + std::string(rule.letters) + ": " + std::string(rule.disputed);
        }
    }
    const std::string cusp = note.role ? ", a " + std::string(word(*note.role)) + " cusp" +
                                             (note.crossbite ? " (crossbite: turned round)" : "")
                                       : "";
    note.sentence = plain_name(mark, numbering) + cusp + ", on the " + std::string(word(note.side)) + ", " +
                    (mark.stage == Stage::protrusive || mark.stage == Stage::centric ? "" : note.where + ", ") +
                    note.movement + (mark.weight == Weight::heavy ? ", heavy" : "") +
                    (mark.on_restoration() ? ", on the restoration" : "") + ": " + rules_say(note) + ".";
    note.sentence.front() = static_cast<char>(note.sentence.front() - 'a' + 'A');
    return note;
}

} // namespace retap::chart
