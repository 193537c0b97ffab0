#include "visit/sqlite_schema.hpp"

#include "error.hpp"
#include "invented_visit.hpp"
#include "paths.hpp"
#include "raw_sqlite.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <sys/wait.h>
#include <unistd.h>

using namespace retap;
using namespace retap::visit;

namespace {

std::filesystem::path old_store(const test::TempFolder& folder) {
    test::RawSqlite raw(folder / "visits.db");
    const std::string script =
        test::bytes_of(std::filesystem::path(test::source_dir()) / "tests/visit/fixtures/store_v1.sql");
    REQUIRE_FALSE(script.empty());
    REQUIRE(raw.run(script).empty());
    return folder / "visits.db";
}

std::string version_of(const std::filesystem::path& file) {
    return test::RawSqlite(file).value("PRAGMA user_version");
}

} // namespace

TEST_CASE("a new store has the present version and our mark") {
    const test::TempFolder folder;
    { SqliteStore store(folder / "visits.db"); }
    CHECK(version_of(folder / "visits.db") == std::to_string(schema_version));
    CHECK(test::RawSqlite(folder / "visits.db").value("PRAGMA application_id") == "1383358832");
    CHECK(test::RawSqlite(folder / "visits.db").value("PRAGMA journal_mode") == "wal");
}

TEST_CASE("a store of version 1 is brought up to date with everything in it, digests and all") {
    const test::TempFolder folder;
    SqliteStore store(old_store(folder));
    CHECK(store.verify(1).empty());
    CHECK(store.verify(2).empty());
    // digests as version 1 computed them: the written form of entries has not changed since
    CHECK(store.load(1).digest() == "18615afc261f11fa701ba20b7452ce60b8b428cbfbdf11346b8e338c4926995b");
    CHECK(store.load(1).closed());
    CHECK(store.load(1).superseded == std::vector{2});
    CHECK(store.take(1, 5).flac == test::invented_take_content(2, 40).flac);
    CHECK(store.load(2).numbering() == chart::Numbering::universal);
    CHECK(store.erased().at(0).reason == "opened by mistake");
}

TEST_CASE("what version 2 added is filled in for old visits") {
    const test::TempFolder folder;
    SqliteStore store(old_store(folder));
    const auto list = store.list({});
    REQUIRE(list.size() == 2);
    CHECK(list[0].latest_look == "before");
    CHECK_FALSE(list[0].latest_sound);
    CHECK(list[1].latest_look == "after");
    CHECK(list[1].latest_sound == compare::Verdict::different);
}

TEST_CASE("an old store that was brought up to date has the same tables as a new one") {
    const test::TempFolder folder;
    { SqliteStore old(old_store(folder)); }
    { SqliteStore fresh(folder / "fresh.db"); }
    const auto tables = [&](const char* file) {
        // the list of columns of every table, whatever the text they were declared with
        return test::RawSqlite(folder / file)
            .value("SELECT group_concat(line, ';') FROM (SELECT m.name || '.' || p.name || ' ' || p.type || "
                   "p.[notnull] || p.pk "
                   "AS line FROM sqlite_master m, pragma_table_info(m.name) p WHERE m.type = 'table' ORDER BY m.name, "
                   "p.cid)");
    };
    CHECK(tables("visits.db") == tables("fresh.db"));
    const auto objects = [&](const char* file) {
        return test::RawSqlite(folder / file)
            .value(
                "SELECT group_concat(n, ' ') FROM (SELECT name n FROM sqlite_master WHERE type IN ('trigger', 'index') "
                "ORDER BY name)");
    };
    CHECK(objects("visits.db") == objects("fresh.db"));
}

TEST_CASE("a new visit after a migration does not get the number of an erased one") {
    const test::TempFolder folder;
    SqliteStore store(old_store(folder));
    CHECK(store.open_visit(test::morning, test::filling_on_16()) == 4);
}

TEST_CASE("a store from a newer program is refused and left alone") {
    const test::TempFolder folder;
    const auto file = old_store(folder);
    test::RawSqlite(file).run("PRAGMA user_version = 99");
    try {
        SqliteStore store(file);
        FAIL("it was opened");
    } catch (const StoreError& error) {
        CHECK(
            std::string(error.what()).find("was written by a newer Retap (store version 99, this one reads up to 3)") !=
            std::string::npos);
    }
    CHECK(version_of(file) == "99");
}

TEST_CASE("a migration that cannot finish changes nothing, and the next opening does it") {
    const test::TempFolder folder;
    const auto file = old_store(folder);
    {
        // a record that cannot be read stops what fills in the new columns
        test::RawSqlite raw(file);
        REQUIRE(raw.run("DROP TRIGGER entry_stays; UPDATE entry SET kind = 'odd' WHERE visit_id = 2 AND number = 2")
                    .empty());
    }
    CHECK_THROWS_AS(SqliteStore{file}, StoreError);
    CHECK(version_of(file) == "1");
    CHECK(test::RawSqlite(file).value("SELECT count(*) FROM pragma_table_info('visit')") == "11");
    test::RawSqlite(file).run("UPDATE entry SET kind = 'marks' WHERE visit_id = 2 AND number = 2");
    { SqliteStore store(file); }
    CHECK(version_of(file) == std::to_string(schema_version));
}

TEST_CASE("a program killed during a migration leaves the old store or the new one (30 moments)") {
    for (int round = 0; round < 30; ++round) {
        CAPTURE(round);
        const test::TempFolder folder;
        const auto file = old_store(folder);
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            try {
                SqliteStore store(file);
            } catch (...) {
                _exit(1);
            }
            _exit(0);
        }
        usleep(static_cast<useconds_t>(round) * 700);
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const std::string version = version_of(file);
        CHECK((version == "1" || version == std::to_string(schema_version)));
        SqliteStore store(file);
        CHECK(store.verify(1).empty());
        CHECK(store.list({}).size() == 2);
        CHECK(store.list({}).at(1).latest_look == "after");
    }
}
