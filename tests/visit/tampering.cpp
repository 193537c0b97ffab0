// What the store itself prevents, and what shows when somebody gets past it.
#include "error.hpp"
#include "invented_visit.hpp"
#include "raw_sqlite.hpp"
#include "temp_folder.hpp"
#include "visit/chain.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;

namespace {

struct SignedStore {
    test::TempFolder folder;
    std::filesystem::path file = folder / "visits.db";
    VisitId id = 0;
    std::string digest;

    SignedStore() {
        SqliteStore store(file);
        id = store.open_visit(test::morning, test::filling_on_16());
        store.add(id, test::holds(test::before, "hold 16 17 26"));
        store.add_take(id, test::before, test::at(1), test::take_named("b.wav"), test::invented_take_content());
        store.add(id, test::signature());
        digest = store.load(id).digest();
    }
};

} // namespace

TEST_CASE("the database refuses to change or remove what was written, whoever asks") {
    const SignedStore signed_store;
    test::RawSqlite raw(signed_store.file);
    CHECK(raw.run("UPDATE entry SET by = 'x'") == "entries are never changed");
    CHECK(raw.run("UPDATE take SET analysis = 'x'") == "takes are never changed");
    CHECK(raw.run("DELETE FROM entry") == "entries are only removed by erasing their visit");
    CHECK(raw.run("DELETE FROM take") == "takes are only removed by erasing their visit");
    CHECK(raw.run("DELETE FROM visit") == "visits are only removed by erasing them");
    CHECK(raw.run("INSERT INTO entry VALUES (1, 5, 'decision', NULL, 'a', 'b', NULL, NULL, '', 'd', NULL)") ==
          "the visit was signed and is closed");
    CHECK(raw.run("REPLACE INTO entry VALUES (1, 2, 'decision', NULL, 'a', 'b', NULL, NULL, '', 'd', NULL)") != "");
    CHECK(SqliteStore(signed_store.file).verify(signed_store.id).empty());
}

TEST_CASE("tombstones stay as well") {
    const SignedStore signed_store;
    SqliteStore(signed_store.file).erase(signed_store.id, test::morning, "test");
    test::RawSqlite raw(signed_store.file);
    CHECK(raw.run("UPDATE erased SET by = 'x'") == "tombstones are never changed");
    CHECK(raw.run("DELETE FROM erased") == "tombstones are never removed");
}

TEST_CASE("every change made past the database's guards shows") {
    // Each statement is what somebody with the file and a database browser could do.
    for (const char* change :
         {"UPDATE entry SET by = 'Somebody' WHERE number = 4",
          "UPDATE entry SET at = '2031-05-15T10:00:00Z' WHERE number = 4",
          "UPDATE entry SET body = replace(body, 'hold 17', 'open 17') WHERE number = 2",
          "UPDATE entry SET look = 'after' WHERE number = 2", "UPDATE entry SET digest = 'x' WHERE number = 1",
          "UPDATE take SET flac = x'00'", "UPDATE take SET flac = x''", "UPDATE take SET analysis = '{}'",
          "UPDATE take SET settings = 'x'", "DELETE FROM take",
          "PRAGMA foreign_keys = OFF; DELETE FROM entry WHERE number = 3", "DELETE FROM entry WHERE number = 4",
          "UPDATE visit SET label = 'C-9999'", "UPDATE visit SET state = 'open'", "UPDATE visit SET uid = 'x'",
          // every other column of the line in lists
          "UPDATE visit SET procedure = 'crown'", "UPDATE visit SET teeth = ' 26 '", "UPDATE visit SET teeth = '16'",
          "UPDATE visit SET numbering = 'universal'", "UPDATE visit SET worker = 'X'",
          "UPDATE visit SET supervisor = 'X'", "UPDATE visit SET opened_at = '2031-05-13T08:30:00Z'",
          "UPDATE visit SET changed_at = '2031-05-13T08:30:00Z'", "UPDATE visit SET latest_look = 'after'",
          "UPDATE visit SET latest_sound = 'alike'", "UPDATE visit SET follows = 'x'",
          "UPDATE visit SET open_action = 'wait'", "UPDATE visit SET open_since = 'x'",
          "UPDATE visit SET open_by = 'x'", "UPDATE visit SET open_numb = 'yes'",
          // texts and lines that reading an entry passes over
          "UPDATE entry SET reason = 'agreed with the patient' WHERE number = 4",
          "UPDATE entry SET look = 'sideways' WHERE number = 4",
          "UPDATE entry SET body = body || 'more=said' || char(10) WHERE number = 2",
          "UPDATE entry SET inherited = '' WHERE number = 2",
          "PRAGMA foreign_keys = OFF; INSERT INTO take VALUES (1, 9, x'00', '', '')"}) {
        CAPTURE(change);
        const SignedStore signed_store;
        {
            test::RawSqlite raw(signed_store.file);
            for (const char* guard : {"entry_stays", "take_stays", "entry_remains", "take_remains"}) {
                REQUIRE(raw.run("DROP TRIGGER " + std::string(guard)).empty());
            }
            REQUIRE(raw.run(change).empty());
        }
        SqliteStore store(signed_store.file);
        std::vector<std::string> faults;
        try {
            faults = store.verify(signed_store.id);
        } catch (const StoreError& unreadable) {
            faults.emplace_back(unreadable.what());
        }
        CHECK_FALSE(faults.empty());
    }
}

TEST_CASE("what the chain alone cannot show, the digest noted elsewhere does") {
    const SignedStore signed_store;
    {
        // a rewrite that computes every digest anew: whole in itself, and with another last digest
        SqliteStore store(signed_store.file);
        Parcel parcel = store.pack(signed_store.id);
        std::get<HoldsCharted>(parcel.entries[1].body).holds.begin()->second = chart::Film::open;
        std::string digest;
        for (Entry& entry : parcel.entries) {
            digest = chained_digest(digest, parcel.uid, entry.number, entry);
            entry.digest = digest;
        }
        SqliteStore other(signed_store.folder / "other.db");
        const VisitId id = other.unpack(parcel);
        CHECK(other.verify(id).empty());
        CHECK(other.load(id).digest() != signed_store.digest);
    }
}

TEST_CASE("a store whose records cannot be read says so and does not guess") {
    const SignedStore signed_store;
    {
        test::RawSqlite raw(signed_store.file);
        raw.run("DROP TRIGGER entry_stays; UPDATE entry SET body = 'holds=hold 99' || char(10) WHERE number = 2");
    }
    SqliteStore store(signed_store.file);
    CHECK_THROWS_AS((void)store.load(signed_store.id), StoreError);
    CHECK_THROWS_AS((void)store.verify(signed_store.id), StoreError);
}
