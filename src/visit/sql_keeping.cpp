// Checking and carrying visits of the stores on databases.
#include "error.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"
#include "visit/sql_rows.hpp"
#include "visit/sql_store.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

/// Faults of a take against the digests that its entry noted.
void check_take(const Entry& entry, const TakeContent& content, std::vector<std::string>& faults) {
    const auto* take = std::get_if<TakeKept>(&entry.body);
    if (take == nullptr) {
        faults.push_back("There is a sound at entry " + std::to_string(entry.number) + ", which is no take.");
        return;
    }
    const auto check = [&](const std::string& digest, const std::string& noted, const char* what) {
        if (digest != noted) {
            faults.push_back("The " + std::string(what) + " of the take in entry " + std::to_string(entry.number) +
                             " is not what was written.");
        }
    };
    check(sha256(std::span<const std::byte>(content.flac)), take->sound_sha256, "sound");
    check(sha256(content.analysis), take->analysis_sha256, "analysis");
    check(sha256(content.settings), take->settings_sha256, "settings document");
}

std::vector<std::string> faults_of(const Parcel& parcel) {
    std::vector<std::string> faults = faults_of_chain(parcel.uid, parcel.entries);
    for (const Entry& entry : parcel.entries) {
        const auto content = std::find_if(parcel.takes.begin(), parcel.takes.end(),
                                          [&](const auto& take) { return take.first == entry.number; });
        if (content != parcel.takes.end()) {
            check_take(entry, content->second, faults);
        } else if (std::holds_alternative<TakeKept>(entry.body)) {
            faults.push_back("The sound of the take in entry " + std::to_string(entry.number) + " is missing.");
        }
    }
    for (const auto& [number, content] : parcel.takes) {
        if (number < 1 || number > static_cast<int>(parcel.entries.size())) {
            faults.push_back("There is a sound for entry " + std::to_string(number) + ", which does not exist.");
        }
    }
    return faults;
}

/// Digests that fit do not make a visit that could have been written: each entry must fit those before it.
void check_as_if_written_here(const Parcel& parcel) {
    check_opening(parcel.entries.front());
    std::vector<Entry> before = {parcel.entries.front()};
    for (std::size_t i = 1; i < parcel.entries.size(); ++i) {
        check_entry(fold(0, parcel.uid, before), parcel.entries[i]);
        before.push_back(parcel.entries[i]);
    }
}

} // namespace

Parcel SqlStore::pack(VisitId id) {
    const Transaction snapshot(database_, "read a visit", Transaction::Access::snapshot);
    return packed(id);
}

Parcel SqlStore::packed(VisitId id) {
    Parcel parcel{uid_of(id), entries_of(id), {}};
    for (const SqlRow& row :
         database_.query("read a visit", "SELECT number FROM take WHERE visit_id = ? ORDER BY number", {id})) {
        const int number = static_cast<int>(row.integer(0));
        parcel.takes.emplace_back(number, take_there(id, number));
    }
    return parcel;
}

std::vector<std::string> SqlStore::strays_in_entries(VisitId id, const std::vector<Entry>& entries) {
    const std::string columns = columns_of(entry_row(entries.front()));
    const auto rows =
        database_.query("read a visit", "SELECT " + columns + " FROM entry WHERE visit_id = ? ORDER BY number", {id});
    std::vector<std::string> faults;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        for (const std::string& column : strays(entry_row(entries[i]), rows.at(i))) {
            faults.push_back("Entry " + std::to_string(entries[i].number) + " (" +
                             std::string(kind_of(entries[i].body)) +
                             ") holds something that was not written: " + column + ".");
        }
    }
    return faults;
}

std::vector<std::string> SqlStore::verify(VisitId id) {
    const Transaction snapshot(database_, "read a visit", Transaction::Access::snapshot);
    const Parcel parcel = packed(id);
    std::vector<std::string> faults = faults_of(parcel);
    for (const std::string& stray : strays_in_entries(id, parcel.entries)) {
        faults.push_back(stray);
    }
    const Visit visit = fold(id, parcel.uid, parcel.entries);
    const Row line = visit_row(visit);
    const auto lines = database_.query("read a visit", "SELECT " + columns_of(line) + " FROM visit WHERE id = ?", {id});
    for (const std::string& column : strays(line, lines.at(0))) {
        faults.push_back("The line that stands for the visit in lists does not match its entries: " + column + ".");
    }
    return faults;
}

VisitId SqlStore::unpack(const Parcel& parcel) {
    if (const auto faults = faults_of(parcel); !faults.empty()) {
        throw InputError("The visit cannot be taken in, because it is not what was written: " + faults.front() +
                         " Export it again from where it comes from.");
    }
    check_as_if_written_here(parcel);
    Transaction transaction(database_, "take in a visit");
    const auto here = database_.query("take in a visit", "SELECT id FROM visit WHERE uid = ?", {parcel.uid});
    if (!here.empty()) {
        throw InputError("This visit is here already, as visit " + here.front().text(0) + ".");
    }
    if (!database_.query("take in a visit", "SELECT 1 FROM erased WHERE uid = ?", {parcel.uid}).empty()) {
        throw InputError("This visit was erased here for privacy and is not taken in again.");
    }
    const VisitId id = insert_visit(parcel.uid, parcel.entries);
    for (const auto& [number, content] : parcel.takes) {
        insert_take(id, number, content);
    }
    transaction.commit();
    return id;
}

} // namespace retap::visit
