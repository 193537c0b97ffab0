// What the visit commands share.
#pragma once

#include "command_line.hpp"
#include "visit/store.hpp"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace retap::commands {

/// `--store PLACE` of the whole group; opened by each command when it runs.
class StoreOption {
public:
    explicit StoreOption(Command group);
    /// Throws InputError when there is no store yet: a wrong name must not leave an empty one behind.
    [[nodiscard]] std::unique_ptr<visit::VisitStore> open() const;
    /// Makes the store when there is none; for commands that begin a record.
    [[nodiscard]] std::unique_ptr<visit::VisitStore> open_or_make() const;
    [[nodiscard]] bool exists() const;
    /// The place as it was said; on a server an address.
    [[nodiscard]] std::filesystem::path file() const;
    [[nodiscard]] bool on_server() const;

private:
    std::shared_ptr<std::string> asked_;
};

void add_visit_new(Command group, const StoreOption& store);
void add_visit_defaults(Command group);
void add_visit_list(Command group, const StoreOption& store);
void add_visit_show(Command group, const StoreOption& store);
void add_visit_charts(Command group, const StoreOption& store); ///< holds, marks
void add_visit_notes(Command group, const StoreOption& store);  ///< feel, decide
void add_visit_facts(Command group, const StoreOption& store);  ///< crossbite, warn
void add_visit_takes(Command group, const StoreOption& store);  ///< attach, compare
void add_visit_take(Command group, const StoreOption& store);
void add_visit_next(Command group, const StoreOption& store); ///< next, rules
void add_visit_report(Command group, const StoreOption& store);
void add_visit_correct(Command group, const StoreOption& store);
void add_visit_sign(Command group, const StoreOption& store);  ///< sign, verify
void add_visit_carry(Command group, const StoreOption& store); ///< export, import, backup
void add_visit_erase(Command group, const StoreOption& store);
void add_visit_discard(Command group, const StoreOption& store);
void add_visit_agree(Command group, const StoreOption& store);

/// A subcommand that understands the group's options after its own name.
Command add_visit_command(Command group, const std::string& name, const std::string& says);
/// The visit's number, as the first argument.
void add_visit_argument(Command command, visit::VisitId& id);
/// The look, as an argument.
Option add_look_argument(Command command, std::string& look);
/// Who writes; the visit's worker when it is not said.
void add_by_option(Command command, std::string& by);
/// `--numbering iso|universal`.
Option add_numbering_option(Command command, std::string& numbering);
[[nodiscard]] chart::Numbering numbering_named(const std::string& word);

/// Throws UsageError when the word names no look.
[[nodiscard]] visit::LookName look_named(const std::string& word);
/// Throws InputError when the visit has no such look yet. No word: the latest after or recheck.
[[nodiscard]] const visit::Look& look_of(const visit::Visit& visit, const std::string& word);

/// Now, by whom it was said or else by the visit's worker.
[[nodiscard]] visit::Stamp stamp_now(const std::string& by, const visit::Visit& visit);
[[nodiscard]] visit::Stamp stamp_now(const std::string& by);

/// Says what was written: `text`, or retap.written/1.
void print_written(bool json, visit::VisitId id, int entry, const std::string& text);
/// Adds to a visit and says so.
void write_entry(const StoreOption& store, visit::VisitId id, visit::NewEntry entry, const std::string& by, bool json,
                 const std::string& what);

} // namespace retap::commands
