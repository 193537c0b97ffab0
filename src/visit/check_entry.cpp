#include "error.hpp"
#include "visit/inherit.hpp"
#include "visit/text_check.hpp"
#include "visit/visit.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

[[noreturn]] void refuse(const std::string& why) {
    throw InputError(why);
}

std::string called(const Visit& visit) {
    return "Visit " + std::to_string(visit.id);
}

bool belongs_to_a_look(const Body& body) {
    return std::holds_alternative<HoldsCharted>(body) || std::holds_alternative<MarksCharted>(body) ||
           std::holds_alternative<TakeKept>(body) || std::holds_alternative<FeelNoted>(body) ||
           std::holds_alternative<Compared>(body);
}

void check_texts(const NewEntry& entry) {
    check_text(entry.stamp.by, "the name of who writes");
    if (is_blank(entry.stamp.by)) {
        refuse("It is not said who writes this. Use --by.");
    }
    if (entry.correction) {
        check_text(entry.correction->reason, "the reason");
        if (is_blank(entry.correction->reason)) {
            refuse("A correction needs a reason. Use --reason.");
        }
    }
    const Fields fields = fields_of(entry.body);
    for (const auto& [name, value] : fields.all()) {
        check_text(value, name);
    }
}

void check_correction(const Visit& visit, const NewEntry& entry) {
    const int of = entry.correction->of;
    const std::string number = "Entry " + std::to_string(of) + " of visit " + std::to_string(visit.id);
    if (of < 1 || of > static_cast<int>(visit.entries.size())) {
        refuse(number + " does not exist; see the entries with: retap visit show " + std::to_string(visit.id));
    }
    if (std::binary_search(visit.superseded.begin(), visit.superseded.end(), of)) {
        refuse(number + " was corrected already; correct the entry that stands now.");
    }
    const Entry& target = visit.entries.at(static_cast<std::size_t>(of) - 1);
    if (std::holds_alternative<Withdrawn>(target.body)) {
        refuse(number + " is a withdrawal and cannot be corrected; enter the thing again.");
    }
    if (std::holds_alternative<Withdrawn>(entry.body)) {
        if (std::holds_alternative<Opened>(target.body)) {
            refuse("The opening of a visit cannot be withdrawn; erase the visit instead.");
        }
    } else if (kind_of(entry.body) != kind_of(target.body)) {
        refuse(number + " is of the kind '" + std::string(kind_of(target.body)) + "', not '" +
               std::string(kind_of(entry.body)) + "'; withdraw it and enter the other.");
    }
    if (entry.look != target.look) {
        refuse(number + " belongs to another look; withdraw it and enter it there.");
    }
}

/// after2 needs after, and so on, so that the looks tell the order of the work.
void check_look_order(const Visit& visit, const LookName& name) {
    if (name.number > 1 && visit.look({name.kind, name.number - 1}) == nullptr) {
        refuse(called(visit) + " has no look '" + text(LookName{name.kind, name.number - 1}) + "' yet; '" + text(name) +
               "' comes after it.");
    }
}

void check_not_charted_twice(const Visit& visit, const NewEntry& entry) {
    const Look* look = visit.look(*entry.look);
    if (look == nullptr) {
        return;
    }
    const bool holds = std::holds_alternative<HoldsCharted>(entry.body) && look->holds;
    const bool marks = std::holds_alternative<MarksCharted>(entry.body) && look->marks;
    if (holds || marks) {
        const int there = holds ? look->holds->entry : look->marks->entry;
        const LookName next{look->name.kind, look->name.number + 1};
        refuse("The " + std::string(holds ? "holds" : "marks") + " of look '" + text(*entry.look) +
               "' are charted already, in entry " + std::to_string(there) + ". To correct them: retap visit correct " +
               std::to_string(visit.id) + " " + std::to_string(there) +
               (look->name.kind == LookKind::before ? "." : ". For a new look, name it '" + text(next) + "'."));
    }
}

void check_opened(const Opened& opened) {
    if (is_blank(opened.label)) {
        refuse("The label is blank. Give the label from the clinic's chart by which the visit is found again.");
    }
    if (opened.treated.empty()) {
        refuse("A visit needs at least one tooth that is treated.");
    }
}

/// What is taken over stands for the day it comes from, and only a visit that continues another has such things.
void check_inherited(const Visit& visit, const NewEntry& entry) {
    const bool of_baseline = entry.look == LookName{};
    const bool of_patient =
        std::holds_alternative<CrossbiteSaid>(entry.body) || std::holds_alternative<WarningNoted>(entry.body);
    if (entry.inherited && (!visit.opened.content.follows || entry.correction ||
                            !(of_baseline || of_patient || std::holds_alternative<Decided>(entry.body)))) {
        refuse("Only a visit that continues another takes something over, and only its baseline, crossbite, warning "
               "signs and open decision.");
    }
    const bool makes_baseline = std::holds_alternative<HoldsCharted>(entry.body) ||
                                std::holds_alternative<MarksCharted>(entry.body) ||
                                std::holds_alternative<TakeKept>(entry.body);
    if (!entry.inherited && !entry.correction && of_baseline && makes_baseline && baseline_is_inherited(visit)) {
        refuse("The baseline of visit " + std::to_string(visit.id) +
               " comes from the visit that it continues, before the work. What is found today belongs to the look "
               "'recheck'.");
    }
}

} // namespace

void check_opening(const NewEntry& entry) {
    check_texts(entry);
    const auto* opened = std::get_if<Opened>(&entry.body);
    if (opened == nullptr) {
        refuse("A visit begins with its opening.");
    }
    check_opened(*opened);
}

void check_entry(const Visit& visit, const NewEntry& entry) {
    if (visit.closed()) {
        refuse(called(visit) + " was signed by " + visit.signature->stamp.by + " and is closed. What comes later " +
               "belongs into a new visit: retap visit new --follows " + std::to_string(visit.id));
    }
    check_texts(entry);
    if (belongs_to_a_look(entry.body) && !entry.look) {
        refuse("It is not said to which look this belongs: before, after or recheck.");
    }
    if (const auto* opened = std::get_if<Opened>(&entry.body)) {
        check_opened(*opened);
    }
    check_inherited(visit, entry);
    if (entry.correction) {
        check_correction(visit, entry);
        return;
    }
    if (std::holds_alternative<Opened>(entry.body) || std::holds_alternative<Withdrawn>(entry.body)) {
        refuse(called(visit) + " is open already; this can only be a correction.");
    }
    if (entry.look) {
        check_look_order(visit, *entry.look);
        check_not_charted_twice(visit, entry);
    }
}

} // namespace retap::visit
