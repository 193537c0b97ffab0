#include "visit/sqlite_schema.hpp"

#include "error.hpp"

#include <array>
#include <string>
#include <vector>

namespace retap::visit {

namespace {

/// "Rtap" in ASCII, so that tools can tell the file from any other SQLite file.
constexpr std::int64_t application_id = 0x52746170;

/// Each step takes a store from one version to the next. Steps are never changed once a program with them was out.
const std::array<std::vector<std::string>, schema_version> steps = {{
    // 1: entries and takes are only ever added. What stands in `visit` is derived from the entries, for listing.
    {
        R"(CREATE TABLE visit (
             id INTEGER PRIMARY KEY AUTOINCREMENT,
             uid TEXT NOT NULL UNIQUE,
             label TEXT NOT NULL,
             procedure TEXT NOT NULL,
             teeth TEXT NOT NULL,
             numbering TEXT NOT NULL,
             worker TEXT NOT NULL,
             supervisor TEXT NOT NULL,
             opened_at TEXT NOT NULL,
             changed_at TEXT NOT NULL,
             state TEXT NOT NULL CHECK (state IN ('open', 'signed'))))",
        R"(CREATE TABLE entry (
             visit_id INTEGER NOT NULL REFERENCES visit (id),
             number INTEGER NOT NULL CHECK (number > 0),
             kind TEXT NOT NULL,
             look TEXT,
             at TEXT NOT NULL,
             by TEXT NOT NULL,
             corrects INTEGER,
             reason TEXT,
             body TEXT NOT NULL,
             digest TEXT NOT NULL,
             PRIMARY KEY (visit_id, number)) WITHOUT ROWID)",
        R"(CREATE TABLE take (
             visit_id INTEGER NOT NULL,
             number INTEGER NOT NULL,
             flac BLOB NOT NULL,
             analysis TEXT NOT NULL,
             settings TEXT NOT NULL,
             PRIMARY KEY (visit_id, number),
             FOREIGN KEY (visit_id, number) REFERENCES entry (visit_id, number)))",
        R"(CREATE TABLE erased (
             visit_id INTEGER PRIMARY KEY,
             uid TEXT NOT NULL,
             at TEXT NOT NULL,
             by TEXT NOT NULL,
             reason TEXT NOT NULL,
             digest TEXT NOT NULL))",
        R"(CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN
             SELECT RAISE(ABORT, 'entries are never changed'); END)",
        R"(CREATE TRIGGER take_stays BEFORE UPDATE ON take BEGIN
             SELECT RAISE(ABORT, 'takes are never changed'); END)",
        R"(CREATE TRIGGER erased_stays BEFORE UPDATE ON erased BEGIN
             SELECT RAISE(ABORT, 'tombstones are never changed'); END)",
        R"(CREATE TRIGGER erased_remains BEFORE DELETE ON erased BEGIN
             SELECT RAISE(ABORT, 'tombstones are never removed'); END)",
        R"(CREATE TRIGGER entry_remains BEFORE DELETE ON entry
             WHEN NOT EXISTS (SELECT 1 FROM erased WHERE visit_id = OLD.visit_id) BEGIN
             SELECT RAISE(ABORT, 'entries are only removed by erasing their visit'); END)",
        R"(CREATE TRIGGER take_remains BEFORE DELETE ON take
             WHEN NOT EXISTS (SELECT 1 FROM erased WHERE visit_id = OLD.visit_id) BEGIN
             SELECT RAISE(ABORT, 'takes are only removed by erasing their visit'); END)",
        R"(CREATE TRIGGER visit_remains BEFORE DELETE ON visit
             WHEN NOT EXISTS (SELECT 1 FROM erased WHERE visit_id = OLD.id) BEGIN
             SELECT RAISE(ABORT, 'visits are only removed by erasing them'); END)",
        R"(CREATE TRIGGER closed_stays BEFORE INSERT ON entry
             WHEN EXISTS (SELECT 1 FROM entry WHERE visit_id = NEW.visit_id AND kind = 'signed') BEGIN
             SELECT RAISE(ABORT, 'the visit was signed and is closed'); END)",
    },
    // 2: where a visit has got to, so that lists can show and filter it without reading every entry.
    {
        "ALTER TABLE visit ADD COLUMN latest_look TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE visit ADD COLUMN latest_sound TEXT",
        "CREATE INDEX visit_by_time ON visit (opened_at DESC, id DESC)",
    },
    // 3: visits that continue others, what they take over, and what was decided and is still to be done. `pending`
    // notes
    // work that outlives a program that is stopped in the middle of it.
    {
        "ALTER TABLE entry ADD COLUMN inherited TEXT",
        "ALTER TABLE visit ADD COLUMN follows TEXT",
        "ALTER TABLE visit ADD COLUMN open_action TEXT",
        "ALTER TABLE visit ADD COLUMN open_since TEXT",
        "ALTER TABLE visit ADD COLUMN open_by TEXT",
        "ALTER TABLE visit ADD COLUMN open_numb TEXT",
        "CREATE INDEX visit_by_followed ON visit (follows)",
        "CREATE TABLE pending (task TEXT NOT NULL, what TEXT NOT NULL, PRIMARY KEY (task, what))",
        // What earlier programs erased may have left traces (SqliteStore::erase).
        "INSERT INTO pending SELECT DISTINCT 'rebuild', '' FROM erased",
    },
}};

std::int64_t pragma(Database& database, const std::string& name) {
    return database.query("read the version", "PRAGMA " + name).at(0).integer(0);
}

bool is_empty(Database& database) {
    return database.query("read the version", "SELECT name FROM sqlite_master LIMIT 1").empty();
}

} // namespace

void bring_up_to_date(Database& database, const std::function<void()>& derive) {
    if (pragma(database, "application_id") == application_id && pragma(database, "user_version") == schema_version) {
        return;
    }
    // Everything is looked at again under the lock: another program may be doing the same.
    Transaction transaction(database, "set up the tables");
    const std::int64_t version = pragma(database, "user_version");
    const bool ours = pragma(database, "application_id") == application_id;
    if (!ours && !is_empty(database)) {
        throw StoreError("'" + database.name() +
                         "' is a database of some other program, not a visit store. Choose another file with --store.");
    }
    if (version > schema_version) {
        throw StoreError("'" + database.name() + "' was written by a newer Retap (store version " +
                         std::to_string(version) + ", this one reads up to " + std::to_string(schema_version) +
                         "). Use the newer program.");
    }
    for (std::size_t step = ours ? static_cast<std::size_t>(version) : 0; step < steps.size(); ++step) {
        database.script("set up the tables", steps.at(step));
    }
    database.script("set up the tables", {"PRAGMA application_id = " + std::to_string(application_id),
                                          "PRAGMA user_version = " + std::to_string(schema_version)});
    if (ours && version < schema_version) {
        derive();
    }
    transaction.commit();
}

} // namespace retap::visit
