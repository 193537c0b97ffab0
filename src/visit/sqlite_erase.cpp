// Taking visits out of the SQLite store, without a trace of what they held.
#include "error.hpp"
#include "visit/backup_copy.hpp"
#include "visit/sqlite_store.hpp"
#include "visit/text_check.hpp"

namespace retap::visit {

namespace {

constexpr const char* doing = "erase a visit";

} // namespace

Tombstone SqliteStore::remove(VisitId id, const Stamp& stamp, const std::string& reason) {
    Tombstone tombstone{id, uid_of(id), stamp, reason, entries_of(id).back().digest};
    database_.execute(doing, "INSERT INTO erased (visit_id, uid, at, by, reason, digest) VALUES (?, ?, ?, ?, ?, ?)",
                      {id, tombstone.uid, stamp.at, stamp.by, reason, tombstone.digest});
    for (const char* from : {"take WHERE visit_id = ?", "entry WHERE visit_id = ?", "visit WHERE id = ?"}) {
        database_.execute(doing, std::string("DELETE FROM ") + from, {id});
    }
    database_.execute(doing, "INSERT OR IGNORE INTO pending (task, what) VALUES ('rebuild', '')");
    return tombstone;
}

Tombstone SqliteStore::erase(VisitId id, const Stamp& stamp, const std::string& reason) {
    check_text(stamp.by, "the name of who writes");
    check_text(reason, "the reason");
    if (is_blank(stamp.by) || is_blank(reason)) {
        throw InputError("Erasing needs to say who erases (--by) and why (--reason).");
    }
    Transaction transaction(database_, doing);
    Tombstone tombstone = remove(id, stamp, reason);
    transaction.commit();
    try {
        rebuild();
    } catch (const StoreError& fault) {
        throw StoreError("Visit " + std::to_string(id) +
                         " is erased and cannot be read any more, but traces may stay in '" +
                         database_.file().string() +
                         "' and its log until it is written anew, which the next opening tries: " + fault.what());
    }
    return tombstone;
}

Tombstone SqliteStore::discard(VisitId id, const Stamp& stamp) {
    Transaction transaction(database_, "discard a visit");
    const Visit visit = read_visit(id);
    if (!visit.holds_nothing_of_its_own()) {
        throw InputError("Visit " + std::to_string(id) +
                         " holds something and is not discarded. See it with: retap visit show " + std::to_string(id) +
                         ". To take it away for good: retap visit erase " + std::to_string(id));
    }
    Tombstone tombstone = remove(id, stamp, "opened by mistake; it held nothing");
    transaction.commit();
    return tombstone;
}

// Deleting overwrites what was deleted, but not the copies that SQLite leaves when it moves rows about within a page:
// of a thousand labels a few could be found again in the gaps of pages in use. VACUUM builds every page anew from what
// the store holds. (A key for each visit, destroyed with it, would have to lie in the same pages.)
void SqliteStore::rebuild() {
    database_.execute(doing, "VACUUM");
    // The log still has the old pages until the new ones are written back and it is cut to nothing.
    if (database_.query(doing, "PRAGMA wal_checkpoint(TRUNCATE)").at(0).integer(0) != 0) {
        throw StoreError("Another program uses the store. Close it.");
    }
    database_.execute(doing, "DELETE FROM pending WHERE task = 'rebuild'");
}

void SqliteStore::finish_what_was_begun() {
    if (!database_.can_write()) {
        return;
    }
    for (const SqlRow& row : database_.query("open the visit store", "SELECT task, what FROM pending")) {
        try {
            if (row.text(0) == "rebuild") {
                rebuild();
            } else if (remove_dead_copy(row.text(1))) {
                database_.execute("open the visit store", "DELETE FROM pending WHERE task = 'backup' AND what = ?",
                                  {row.text(1)});
            }
        } catch (const StoreError&) {
            continue; // it stays noted; the store serves all the same
        }
    }
}

std::vector<Tombstone> SqliteStore::erased() {
    std::vector<Tombstone> tombstones;
    for (const SqlRow& row :
         database_.query("list what was erased",
                         "SELECT visit_id, uid, at, by, reason, digest FROM erased ORDER BY at, visit_id")) {
        tombstones.push_back({row.integer(0), row.text(1), {row.text(2), row.text(3)}, row.text(4), row.text(5)});
    }
    return tombstones;
}

} // namespace retap::visit
