// Taking visits out of the SQLite store, without a trace of what they held.
#include "error.hpp"
#include "visit/backup_copy.hpp"
#include "visit/sqlite_database.hpp"
#include "visit/sqlite_store.hpp"

namespace retap::visit {

namespace {

constexpr const char* erasing_in_file = "erase a visit";

} // namespace

void SqliteStore::take_out(const Tombstone& tombstone) {
    file_.execute(
        erasing_in_file, "INSERT INTO erased (visit_id, uid, at, by, reason, digest) VALUES (?, ?, ?, ?, ?, ?)",
        {tombstone.id, tombstone.uid, tombstone.stamp.at, tombstone.stamp.by, tombstone.reason, tombstone.digest});
    for (const char* from : {"take WHERE visit_id = ?", "entry WHERE visit_id = ?", "visit WHERE id = ?"}) {
        file_.execute(erasing_in_file, std::string("DELETE FROM ") + from, {tombstone.id});
    }
    file_.execute(erasing_in_file, "INSERT OR IGNORE INTO pending (task, what) VALUES ('rebuild', '')");
}

void SqliteStore::after_erasing(VisitId id) {
    (void)id;
    rebuild();
}

// Deleting overwrites what was deleted, but not the copies that SQLite leaves when it moves rows about within a page:
// of a thousand labels a few could be found again in the gaps of pages in use. VACUUM builds every page anew from what
// the store holds. (A key for each visit, destroyed with it, would have to lie in the same pages.)
void SqliteStore::rebuild() {
    file_.execute(erasing_in_file, "VACUUM");
    // The log still has the old pages until the new ones are written back and it is cut to nothing.
    if (file_.query(erasing_in_file, "PRAGMA wal_checkpoint(TRUNCATE)").at(0).integer(0) != 0) {
        throw StoreError("Another program uses the store. Close it.");
    }
    file_.execute(erasing_in_file, "DELETE FROM pending WHERE task = 'rebuild'");
}

void SqliteStore::finish_what_was_begun() {
    if (!file_.can_write()) {
        return;
    }
    for (const SqlRow& row : file_.query("open the visit store", "SELECT task, what FROM pending")) {
        try {
            if (row.text(0) == "rebuild") {
                rebuild();
            } else if (remove_dead_copy(row.text(1))) {
                file_.execute("open the visit store", "DELETE FROM pending WHERE task = 'backup' AND what = ?",
                              {row.text(1)});
            }
        } catch (const StoreError&) {
            continue; // it stays noted; the store serves all the same
        }
    }
}

} // namespace retap::visit
