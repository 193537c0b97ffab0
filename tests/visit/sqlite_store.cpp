#include "visit/sqlite_store.hpp"

#include "error.hpp"
#include "invented_visit.hpp"
#include "raw_sqlite.hpp"
#include "temp_folder.hpp"
#include "without_rights.hpp"

#include <doctest/doctest.h>

#include <sys/stat.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::before;

namespace {

/// A signed visit with a take on each side; takes are entries 3 and 4.
VisitId told(SqliteStore& store) {
    const VisitId id = store.open_visit(test::morning, test::filling_on_16());
    store.add(id, test::holds(before, "hold 16 17 26"));
    store.add_take(id, before, test::at(1), test::take_named("before.wav"), test::invented_take_content(1));
    store.add_take(id, after, test::at(2), test::take_named("after.wav"), test::invented_take_content(2));
    store.add(id, test::feel(after, true, chart::Feel::high, "a bit high"));
    store.add(id, test::signature());
    return id;
}

std::vector<VisitId> ids(SqliteStore& store, const VisitFilter& filter) {
    std::vector<VisitId> found;
    for (const VisitSummary& summary : store.list(filter)) {
        found.push_back(summary.id);
    }
    return found;
}

} // namespace

TEST_CASE("erasing leaves a tombstone and none of the content, not even in freed parts of the files") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId kept = told(store);
    Opened opened = test::filling_on_16();
    opened.label = "UNMISTAKABLE-LABEL";
    const VisitId id = store.open_visit(test::morning, opened);
    store.add(id, test::feel(before, true, chart::Feel::high, "UNMISTAKABLE-WORDS"));
    store.add_take(id, before, test::morning, test::take_named("x"), test::invented_take_content(3, 100000));
    const std::string digest = store.load(id).digest();
    const Tombstone tombstone = store.erase(id, test::at(9, "B. Teacher"), "asked for by the patient");
    CHECK(tombstone.digest == digest);
    CHECK_THROWS_WITH_AS((void)store.load(id), "Visit 2 was erased on 2031-05-14 by B. Teacher.", InputError);
    REQUIRE(store.erased().size() == 1);
    CHECK(store.erased().at(0).reason == "asked for by the patient");
    for (const char* file : {"visits.db", "visits.db-wal"}) {
        CAPTURE(file);
        CHECK(test::bytes_of(folder / file).find("UNMISTAKABLE") == std::string::npos);
    }
    CHECK(store.verify(kept).empty());
    CHECK(store.take(kept, 3).flac == test::invented_take_content(1).flac);
}

TEST_CASE("a backup is a whole store, made while another program is in the middle of writing") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId id = told(store);
    test::RawSqlite busy(folder / "visits.db");
    REQUIRE(busy.run("BEGIN IMMEDIATE; INSERT INTO erased VALUES (99, 'u', 'a', 'b', 'r', 'd')").empty());
    store.backup(folder / "backup.db");
    busy.run("ROLLBACK");
    struct stat state {};
    REQUIRE(stat((folder / "backup.db").c_str(), &state) == 0);
    CHECK((state.st_mode & 0777U) == 0600U);
    SqliteStore copy(folder / "backup.db");
    CHECK(copy.verify(id).empty());
    CHECK(copy.load(id).digest() == store.load(id).digest());
    CHECK(copy.erased().empty());
}

TEST_CASE("a backup never replaces a file, and a failed one leaves nothing behind") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    CHECK_THROWS_AS(store.backup(folder / "visits.db"), InputError);
    CHECK_THROWS_AS(store.backup(folder / "missing/backup.db"), StoreError);
    store.backup(folder / "backup.db");
    CHECK_THROWS_AS(store.backup(folder / "backup.db"), InputError);
    for (const auto& file : std::filesystem::directory_iterator(folder.path())) {
        CHECK(file.path().filename().string().front() != '.');
    }
}

TEST_CASE("files that are no visit stores are refused and left as they are") {
    const test::TempFolder folder;
    const std::string text(5000, 'x');
    test::put_bytes(folder / "text", text);
    CHECK_THROWS_AS(SqliteStore(folder / "text"), StoreError);
    CHECK(test::bytes_of(folder / "text") == text);
    {
        test::RawSqlite other(folder / "other.db");
        other.run("CREATE TABLE visit (a); PRAGMA user_version = 1");
    }
    CHECK_THROWS_AS(SqliteStore(folder / "other.db"), StoreError);
    CHECK(test::RawSqlite(folder / "other.db").value("SELECT count(*) FROM sqlite_master") == "1");
    CHECK_THROWS_AS(SqliteStore(folder / "a\"quote.db"), StoreError);
}

TEST_CASE("where nothing can be written visits are read all the same, and a write says what stands in the way") {
    for (const char* name : {"visits.db", "100% sure? #1.db"}) {
        CAPTURE(name);
        const test::TempFolder folder;
        VisitId id = 0;
        {
            SqliteStore store(folder / name);
            id = told(store);
        }
        const test::ReadOnly closed(folder.path());
        REQUIRE(closed.works());
        SqliteStore store(folder / name);
        CHECK(ids(store, {}) == std::vector<VisitId>{id});
        CHECK(store.load(id).entries.size() == 6);
        CHECK(store.take(id, 3).flac == test::invented_take_content(1).flac);
        CHECK(store.verify(id).empty());
        CHECK(folder.entries() == 1);
        CHECK_THROWS_WITH_AS(store.open_visit(test::morning, test::filling_on_16()),
                             doctest::Contains("Check that you may write to the file and its folder."), StoreError);
    }
}

TEST_CASE("a store that others can read stays as it is where that cannot be changed") {
    const test::TempFolder folder;
    SqliteStore(folder / "visits.db").open_visit(test::morning, test::filling_on_16());
    const test::ReadOnly closed(folder.path());
    REQUIRE(closed.works());
    CHECK(SqliteStore(folder / "visits.db").list({}).size() == 1);
    CHECK_THROWS_WITH_AS(SqliteStore(folder / "none.db"), doctest::Contains("Choose another place"), StoreError);
}

TEST_CASE("what a program that was killed left in the log is not passed over where nothing can be written") {
    const test::TempFolder folder;
    std::filesystem::create_directory(folder / "left");
    {
        SqliteStore store(folder / "visits.db");
        store.open_visit(test::morning, test::filling_on_16());
        for (const char* name : {"visits.db", "visits.db-wal"}) { // as they are while the store is open
            std::filesystem::copy_file(folder / name, folder / "left" / name);
        }
    }
    const test::ReadOnly closed(folder / "left");
    REQUIRE(closed.works());
    chmod(folder.path().c_str(), 0755);
    CHECK_THROWS_AS(SqliteStore(folder / "left/visits.db").list({}), StoreError);
}

TEST_CASE("a path with spaces and signs is a path like any other") {
    const test::TempFolder folder;
    SqliteStore store(folder / "a folder/it's; timeout=1 = \xC3\xA9.db");
    CHECK(store.verify(told(store)).empty());
}
