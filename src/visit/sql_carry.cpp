// Entries on their way from and to the stores on databases, one after the other.
#include "error.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"
#include "visit/sql_rows.hpp"
#include "visit/sql_store.hpp"

namespace retap::visit {

namespace {

constexpr const char* carrying = "carry a visit";
constexpr const char* heads_sql =
    "SELECT v.id, v.uid, e.number, e.digest FROM visit v JOIN entry e ON e.visit_id = v.id "
    "WHERE e.number = (SELECT max(x.number) FROM entry x WHERE x.visit_id = v.id)";

Head head_from(const SqlRow& row) {
    return {row.integer(0), row.text(1), static_cast<int>(row.integer(2)), row.text(3)};
}

void check_content(const Entry& entry, const TakeContent& content) {
    const auto& take = std::get<TakeKept>(entry.body);
    if (sha256(std::span<const std::byte>(content.flac)) != take.sound_sha256 ||
        sha256(content.analysis) != take.analysis_sha256 || sha256(content.settings) != take.settings_sha256) {
        throw InputError("The take in entry " + std::to_string(entry.number) + " is not what was written.");
    }
}

} // namespace

std::vector<Head> SqlStore::heads() {
    std::vector<Head> all;
    for (const SqlRow& row : database_.query(carrying, std::string(heads_sql) + " ORDER BY v.uid")) {
        all.push_back(head_from(row));
    }
    return all;
}

std::optional<Head> SqlStore::head(const std::string& uid) {
    const auto rows = database_.query(carrying, std::string(heads_sql) + " AND v.uid = ?", {uid});
    return rows.empty() ? std::nullopt : std::optional(head_from(rows.front()));
}

bool SqlStore::was_erased(const std::string& uid) {
    return !database_.query(carrying, "SELECT 1 FROM erased WHERE uid = ?", {uid}).empty();
}

std::vector<Entry> SqlStore::entries_of_visit(VisitId id) {
    return entries_of(id);
}

TakeContent SqlStore::content_of_take(VisitId id, int entry) {
    return take(id, entry);
}

bool SqlStore::answers() {
    try {
        return !database_.query(carrying, "SELECT 1").empty();
    } catch (const StoreError&) {
        return false;
    }
}

int SqlStore::take_in(const std::string& uid, const std::vector<Entry>& entries,
                      const std::function<TakeContent(int entry)>& content) {
    Transaction transaction(database_, carrying);
    const auto rows = database_.query(carrying, "SELECT id FROM visit WHERE uid = ?", {uid});
    std::optional<Visit> visit;
    if (!rows.empty()) {
        visit = read_to_write(rows.front().integer(0));
    } else if (was_erased(uid)) {
        throw InputError("This visit was erased here for privacy and is not taken in again.");
    }
    int added = 0;
    for (const Entry& entry : entries) {
        const int here = visit ? static_cast<int>(visit->entries.size()) : 0;
        if (entry.number <= here) {
            if (visit->entries.at(static_cast<std::size_t>(entry.number) - 1).digest != entry.digest) {
                throw InputError("Entry " + std::to_string(entry.number) + " of the visit is another one here.");
            }
            continue;
        }
        const std::string before = visit ? visit->digest() : std::string();
        if (entry.number != here + 1 || chained_digest(before, uid, entry.number, entry) != entry.digest) {
            throw InputError("Entry " + std::to_string(entry.number) + " does not follow on what is here.");
        }
        if (!visit) {
            check_opening(entry);
            visit = fold(insert_visit(uid, {entry}), uid, {entry});
        } else {
            check_entry(*visit, entry);
            insert_entry(visit->id, entry);
            std::vector<Entry> all = std::move(visit->entries);
            all.push_back(entry);
            visit = fold(visit->id, uid, std::move(all));
        }
        if (std::holds_alternative<TakeKept>(entry.body)) {
            const TakeContent sound = content(entry.number);
            check_content(entry, sound);
            insert_take(visit->id, entry.number, sound);
        }
        ++added;
    }
    if (added > 0) {
        refresh_summary(*visit);
    }
    transaction.commit();
    return added;
}

} // namespace retap::visit
