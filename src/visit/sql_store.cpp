#include "visit/sql_store.hpp"

#include "error.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"
#include "visit/sql_rows.hpp"

#include <random>

namespace retap::visit {

namespace {

/// 128 random bits, so that visits of different stores never share one.
std::string new_uid() {
    std::random_device random;
    std::string uid;
    for (int word = 0; word < 4; ++word) {
        std::uint32_t bits = random();
        for (int digit = 0; digit < 8; ++digit, bits >>= 4U) {
            uid += "0123456789abcdef"[bits & 15U];
        }
    }
    return uid;
}

[[noreturn]] void no_such_visit(VisitId id) {
    throw InputError("There is no visit " + std::to_string(id) + ". See which there are with: retap visit list");
}

} // namespace

std::string SqlStore::uid_of(VisitId id) {
    const auto rows = database_.query("read a visit", "SELECT uid FROM visit WHERE id = ?", {id});
    if (!rows.empty()) {
        return rows.front().text(0);
    }
    const auto gone = database_.query("read a visit", "SELECT at, by FROM erased WHERE visit_id = ?", {id});
    if (!gone.empty()) {
        throw InputError("Visit " + std::to_string(id) + " was erased on " + gone.front().text(0).substr(0, 10) +
                         " by " + gone.front().text(1) + ".");
    }
    no_such_visit(id);
}

std::vector<Entry> SqlStore::entries_of(VisitId id) {
    std::vector<Entry> entries;
    for (const SqlRow& row : database_.query("read a visit",
                                             "SELECT number, kind, look, at, by, corrects, reason, body, digest, "
                                             "inherited FROM entry WHERE visit_id = ? ORDER BY number",
                                             {id})) {
        entries.push_back(entry_from(row));
    }
    if (entries.empty()) {
        throw StoreError("Visit " + std::to_string(id) + " in '" + database_.name() +
                         "' has lost its entries. Go back to a backup.");
    }
    return entries;
}

Visit SqlStore::read_visit(VisitId id) {
    std::string uid = uid_of(id);
    return fold(id, std::move(uid), entries_of(id));
}

Visit SqlStore::read_to_write(VisitId id) {
    hold(id);
    return read_visit(id);
}

Visit SqlStore::load(VisitId id) {
    const Transaction snapshot(database_, "read a visit", Transaction::Access::snapshot);
    Visit visit = read_visit(id);
    visit.chain = chain_of(visit);
    return visit;
}

void SqlStore::insert_entry(VisitId id, const Entry& entry) {
    const Row row = entry_row(entry);
    std::vector<SqlValue> values = values_of(row);
    values.emplace_back(id);
    database_.execute("add to a visit",
                      "INSERT INTO entry (" + columns_of(row) + ", visit_id) VALUES (" + marks_of(row) + ", ?)",
                      values);
}

VisitId SqlStore::insert_visit(const std::string& uid, const std::vector<Entry>& entries) {
    // The rest of the row follows from the entries, which need the row to be there first.
    database_.execute("open a visit",
                      "INSERT INTO visit (uid, label, procedure, teeth, numbering, worker, supervisor, opened_at, "
                      "changed_at, state) VALUES (?, '', '', '', '', '', '', '', '', 'open')",
                      {uid});
    const VisitId id = database_.query("open a visit", "SELECT id FROM visit WHERE uid = ?", {uid}).at(0).integer(0);
    for (const Entry& entry : entries) {
        insert_entry(id, entry);
    }
    refresh_summary(fold(id, uid, entries));
    return id;
}

int SqlStore::append(const Visit& visit, const NewEntry& entry) {
    check_entry(visit, entry);
    Entry written{entry, static_cast<int>(visit.entries.size()) + 1, {}};
    written.digest = chained_digest(visit.digest(), visit.uid, written.number, written);
    insert_entry(visit.id, written);
    std::vector<Entry> entries = visit.entries;
    entries.push_back(written);
    refresh_summary(fold(visit.id, visit.uid, std::move(entries)));
    return written.number;
}

void SqlStore::refresh_summary(const Visit& visit) {
    const Row row = visit_row(visit);
    std::vector<SqlValue> values = values_of(row);
    values.emplace_back(visit.id);
    database_.execute("add to a visit",
                      "UPDATE visit SET (" + columns_of(row) + ") = (" + marks_of(row) + ") WHERE id = ?", values);
}

void SqlStore::refresh_all_summaries() {
    for (const SqlRow& row : database_.query("bring the store up to date", "SELECT id FROM visit")) {
        refresh_summary(read_visit(row.integer(0)));
    }
}

VisitId SqlStore::open_visit(const Stamp& stamp, const Opened& opened) {
    Transaction transaction(database_, "open a visit");
    const VisitId id = insert_opening(stamp, opened);
    transaction.commit();
    return id;
}

VisitId SqlStore::insert_opening(const Stamp& stamp, const Opened& opened) {
    NewEntry opening{stamp, std::nullopt, std::nullopt, opened};
    check_opening(opening);
    const std::string uid = new_uid();
    Entry first{opening, 1, {}};
    first.digest = chained_digest("", uid, 1, first);
    return insert_visit(uid, {first});
}

int SqlStore::add(VisitId id, const NewEntry& entry) {
    if (std::holds_alternative<TakeKept>(entry.body)) {
        throw std::logic_error("takes are added with their content");
    }
    Transaction transaction(database_, "add to a visit");
    const int number = append(read_to_write(id), entry);
    transaction.commit();
    return number;
}

int SqlStore::add_take(VisitId id, const LookName& look, const Stamp& stamp, TakeKept take,
                       const TakeContent& content) {
    take.sound_sha256 = sha256(std::span<const std::byte>(content.flac));
    take.analysis_sha256 = sha256(content.analysis);
    take.settings_sha256 = sha256(content.settings);
    Transaction transaction(database_, "keep a take");
    const int number = append(read_to_write(id), {stamp, look, std::nullopt, std::move(take)});
    insert_take(id, number, content);
    transaction.commit();
    return number;
}

TakeContent SqlStore::take(VisitId id, int entry) {
    const Transaction snapshot(database_, "read a take", Transaction::Access::snapshot);
    return take_there(id, entry);
}

TakeContent SqlStore::take_there(VisitId id, int entry) {
    auto content = find_take(id, entry);
    if (!content) {
        throw InputError("Visit " + std::to_string(id) + " has no take in entry " + std::to_string(entry) +
                         ". See its takes with: retap visit show " + std::to_string(id));
    }
    return std::move(*content);
}

} // namespace retap::visit
