// A copy of the whole SQLite store.
#include "error.hpp"
#include "visit/backup_copy.hpp"
#include "visit/sqlite_database.hpp"
#include "visit/sqlite_store.hpp"

namespace retap::visit {

void SqliteStore::backup(const std::filesystem::path& destination) {
    if (std::filesystem::exists(destination)) {
        throw InputError("The backup '" + destination.string() + "' exists already. Choose another name.");
    }
    const std::string doing = "write a backup";
    remove_dead_copies(destination);
    BackupCopy copy(destination);
    // Noted first: when the program is killed, the next opening of the store takes the copy away. Nobody is waited for
    // to note it, and a note that could not be struck out again is at the next opening.
    const auto note = [&](const std::string& sql) {
        if (file_.can_write()) {
            (void)file_.execute_at_once(doing, sql, {copy.path()});
        }
    };
    note("INSERT OR IGNORE INTO pending (task, what) VALUES ('backup', ?)");
    copy.make();
    file_.execute(doing, "VACUUM INTO ?", {copy.path()});
    copy.keep();
    note("DELETE FROM pending WHERE task = 'backup' AND what = ?");
}

} // namespace retap::visit
