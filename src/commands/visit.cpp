// retap visit: the record of one procedure, driven from the terminal and from scripts.
#include "error.hpp"
#include "report/json.hpp"
#include "terminal.hpp"
#include "visit/clock.hpp"
#include "visit/open_store.hpp"
#include "visit/store_place.hpp"
#include "visit_commands.hpp"

#include <chrono>

namespace retap::commands {

StoreOption::StoreOption(Command group) : asked_(std::make_shared<std::string>()) {
    group
        .option("--store", *asked_,
                "The file that visits are kept in, or postgresql://LOGIN@HOST/DATABASE for a store that a clinic "
                "shares. Else RETAP_STORE, else retap/visits.db in the user's data folder")
        .type_name("PLACE");
}

std::filesystem::path StoreOption::file() const {
    return visit::store_file(*asked_);
}

bool StoreOption::on_server() const {
    return visit::is_server(file().string());
}

std::unique_ptr<visit::VisitStore> StoreOption::open() const {
    if (!exists()) {
        throw InputError("There is no visit store '" + file().string() +
                         "' yet. Check --store and RETAP_STORE; the first one is made by: retap visit new");
    }
    return open_or_make();
}

std::unique_ptr<visit::VisitStore> StoreOption::open_or_make() const {
    return visit::open_store(file().string());
}

bool StoreOption::exists() const {
    if (on_server()) {
        return true; // opening says whether
    }
    std::error_code not_to_be_seen; // opening says why
    return std::filesystem::exists(file(), not_to_be_seen) || not_to_be_seen;
}

Command add_visit_command(Command group, const std::string& name, const std::string& says) {
    Command command = group.subcommand(name, says);
    command.take_options_of_parent();
    return command;
}

void add_visit_argument(Command command, visit::VisitId& id) {
    command.option("VISIT", id, "Number of the visit").required().counting_number();
}

Option add_look_argument(Command command, std::string& look) {
    return command.option("LOOK", look, "before, after, after2, ..., recheck, recheck2, ...");
}

void add_by_option(Command command, std::string& by) {
    command.option("--by", by, "Who writes this; the visit's worker when left out").type_name("NAME");
}

Option add_numbering_option(Command command, std::string& numbering) {
    return command
        .option("--numbering", numbering, "How teeth are numbered: iso (ISO 3950, two digits) or universal (1 to 32)")
        .one_of({"iso", "universal"})
        .type_name("SYSTEM");
}

chart::Numbering numbering_named(const std::string& word) {
    const auto numbering = chart::numbering_from(word);
    if (!numbering) {
        throw UsageError("Say how teeth are numbered: --numbering iso or --numbering universal.");
    }
    return *numbering;
}

visit::LookName look_named(const std::string& word) {
    const auto name = visit::look_from(word);
    if (!name) {
        throw UsageError("'" + word + "' is no look. A look is before, after, after2, ..., recheck, recheck2, ...");
    }
    return *name;
}

const visit::Look& look_of(const visit::Visit& visit, const std::string& word) {
    const visit::Look* look = word.empty() ? visit.latest() : visit.look(look_named(word));
    if (look == nullptr) {
        throw InputError("Visit " + std::to_string(visit.id) + " has no look '" + (word.empty() ? "after" : word) +
                         "' yet. Chart or attach something to it first.");
    }
    return *look;
}

visit::Stamp stamp_now(const std::string& by) {
    return {visit::utc_text(std::chrono::system_clock::now()), by};
}

visit::Stamp stamp_now(const std::string& by, const visit::Visit& visit) {
    return stamp_now(by.empty() ? visit.opened.content.worker : by);
}

void print_written(bool json, visit::VisitId id, int entry, const std::string& text) {
    if (json) {
        print(report::json_text({{"format", "retap.written/1"}, {"visit", id}, {"entry", entry}}));
    } else {
        print("Visit " + std::to_string(id) + ", entry " + std::to_string(entry) + ": " + text + "\n");
    }
}

void write_entry(const StoreOption& store, visit::VisitId id, visit::NewEntry entry, const std::string& by, bool json,
                 const std::string& what) {
    const auto open = store.open();
    entry.stamp = stamp_now(by, open->load(id));
    print_written(json, id, open->add(id, entry), what);
}

void add_visit(Command program) {
    Command group = program.subcommand("visit", "Keep the record of a procedure: looks, charts, takes, decision");
    const StoreOption store(group);
    add_visit_new(group, store);
    add_visit_defaults(group);
    add_visit_charts(group, store);
    add_visit_facts(group, store);
    add_visit_takes(group, store);
    add_visit_take(group, store);
    add_visit_notes(group, store);
    add_visit_next(group, store);
    add_visit_show(group, store);
    add_visit_list(group, store);
    add_visit_report(group, store);
    add_visit_correct(group, store);
    add_visit_sign(group, store);
    add_visit_carry(group, store);
    add_visit_erase(group, store);
    add_visit_discard(group, store);
    add_visit_agree(group, store);
    group.footer("Charts are typed like this (the visit's numbering is understood):\n"
                 "  retap visit holds 3 before \"hold 17..14 24 25/35; slide 26; open 27\"\n"
                 "  retap visit marks 3 after \"centric 16 MP+ CF* 26 MP; working none; non-working 47 DB/in\"\n"
                 "A tooth alone stands for the pair with its namesake. + heavy, - light, * on the restoration;\n"
                 "/in /out /mes /dis an incline. Use a label from the clinic's chart, not a name.");
    group.when_run([group] {
        if (!group.subcommand_given()) {
            throw UsageError("Say what to do with visits, as in: retap visit list. Try: retap visit --help");
        }
    });
}

} // namespace retap::commands
