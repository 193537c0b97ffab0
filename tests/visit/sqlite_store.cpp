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

TEST_CASE("a visit is read back as it was written, by this and by the next opening of the store") {
    const test::TempFolder folder;
    VisitId id = 0;
    {
        SqliteStore store(folder / "visits.db");
        id = told(store);
    }
    SqliteStore store(folder / "visits.db");
    const Visit visit = store.load(id);
    CHECK(visit.opened.content.label == "C-1042");
    CHECK(visit.opened.stamp == test::morning);
    CHECK(chart::write_holds(visit.baseline()->holds->content.holds, chart::Numbering::iso) == "hold 17 16 26");
    CHECK(visit.look(after)->takes.at(0).content.name == "after.wav");
    CHECK(visit.look(after)->feel->content.words == "a bit high");
    CHECK(visit.signature->stamp.by == "B. Teacher");
    CHECK(visit.entries.size() == 6);
    CHECK(store.verify(id).empty());
}

TEST_CASE("takes come back to the byte, zeros and all, also large and empty ones") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId id = store.open_visit(test::morning, test::filling_on_16());
    for (const std::size_t size : {0UL, 1UL, 3000UL, 5000000UL}) {
        CAPTURE(size);
        const TakeContent content = test::invented_take_content(9, size);
        const int number = store.add_take(id, before, test::morning, test::take_named("x"), content);
        const TakeContent back = store.take(id, number);
        CHECK(back.flac == content.flac);
        CHECK(back.analysis == content.analysis);
        CHECK(back.settings == content.settings);
    }
    CHECK_THROWS_AS((void)store.take(id, 1), InputError);
}

TEST_CASE("what check_entry refuses leaves no trace in the store") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId id = told(store);
    CHECK_THROWS_AS(store.add(id, test::marks(after, "16 CF")), InputError);
    CHECK_THROWS_AS(store.add_take(id, after, test::morning, test::take_named("x"), test::invented_take_content()),
                    InputError);
    CHECK(store.load(id).entries.size() == 6);
    Opened unlabelled = test::filling_on_16();
    unlabelled.label.clear();
    CHECK_THROWS_AS(store.open_visit(test::morning, unlabelled), InputError);
    CHECK(store.list({}).size() == 1);
}

TEST_CASE("an unknown visit is named as such, in every function") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    CHECK_THROWS_WITH_AS((void)store.load(5), "There is no visit 5. See which there are with: retap visit list",
                         InputError);
    CHECK_THROWS_AS(store.add(5, test::signature()), InputError);
    CHECK_THROWS_AS((void)store.verify(5), InputError);
    CHECK_THROWS_AS((void)store.pack(5), InputError);
    CHECK_THROWS_AS(store.erase(5, test::morning, "x"), InputError);
}

TEST_CASE("the list finds visits by each filter and by all of them together") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId one = told(store);
    Opened other = test::filling_on_16();
    other.label = "D-7_50%";
    other.procedure = "crown";
    other.treated = chart::read_teeth("36 37", chart::Numbering::iso);
    const VisitId two = store.open_visit({"2031-06-02T08:00:00Z", "C. Other"}, other);
    CHECK(ids(store, {}) == std::vector{two, one});
    CHECK(ids(store, {.text = "CROWN"}) == std::vector{two});
    CHECK(ids(store, {.text = "teacher"}) == std::vector{two, one});
    CHECK(ids(store, {.text = "7_5"}) == std::vector{two});
    CHECK(ids(store, {.text = "C_1042"}).empty()); // _ and % mean themselves
    CHECK(ids(store, {.text = "%"}) == std::vector{two});
    CHECK(ids(store, {.tooth = chart::Tooth::from_number(37, chart::Numbering::iso)}) == std::vector{two});
    CHECK(ids(store, {.tooth = chart::Tooth::from_number(6, chart::Numbering::universal)}).empty());
    CHECK(ids(store, {.closed = true}) == std::vector{one});
    CHECK(ids(store, {.since = "2031-06"}) == std::vector{two});
    CHECK(ids(store, {.until = "2031-05"}) == std::vector{one});
    CHECK(ids(store, {.until = "2031-05-14T08:30:00Z"}) == std::vector{one});
    CHECK(ids(store, {.since = "2031-05-15", .until = "2031-06-01"}).empty());
    CHECK(ids(store, {.text = "C-", .closed = true, .since = "2031"}) == std::vector{one});
    CHECK(ids(store, {.limit = 1}) == std::vector{two});
    CHECK(store.list({.closed = true}).at(0).latest_look == "after");
}

TEST_CASE("the list shows the verdict of the latest look, as long as it stands") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId id = store.open_visit(test::morning, test::filling_on_16());
    const int a = store.add_take(id, before, test::morning, test::take_named("a"), test::invented_take_content());
    const int b = store.add_take(id, after, test::morning, test::take_named("b"), test::invented_take_content());
    Compared compared;
    compared.verdict = compare::Verdict::different;
    compared.before_takes = {a};
    compared.now_takes = {b};
    store.add(id, {test::morning, after, {}, compared});
    CHECK(ids(store, {.latest_sound = compare::Verdict::different}) == std::vector{id});
    CHECK(ids(store, {.latest_sound = compare::Verdict::alike}).empty());
    store.add_take(id, after, test::morning, test::take_named("c"), test::invented_take_content());
    CHECK_FALSE(store.list({}).at(0).latest_sound);
}

TEST_CASE("a visit travels to another store whole, signature and all") {
    const test::TempFolder folder;
    SqliteStore here(folder / "here.db");
    SqliteStore there(folder / "there.db");
    (void)there.open_visit(test::morning, test::filling_on_16());
    const VisitId id = told(here);
    const VisitId arrived = there.unpack(here.pack(id));
    CHECK(arrived != id);
    CHECK(there.verify(arrived).empty());
    CHECK(there.load(arrived).digest() == here.load(id).digest());
    CHECK(there.load(arrived).closed());
    CHECK(there.take(arrived, 3).flac == here.take(id, 3).flac);
    CHECK_THROWS_WITH_AS(there.unpack(here.pack(id)), "This visit is here already, as visit 2.", InputError);
}

TEST_CASE("a parcel that was changed on the way is not taken in, and leaves nothing") {
    const test::TempFolder folder;
    SqliteStore here(folder / "here.db");
    SqliteStore there(folder / "there.db");
    const Parcel whole = here.pack(told(here));
    const auto refused = [&](auto change) {
        Parcel parcel = whole;
        change(parcel);
        CHECK_THROWS_AS(there.unpack(parcel), InputError);
        CHECK(there.list({}).empty());
    };
    refused([](Parcel& p) { p.takes[0].second.flac[100] ^= std::byte{1}; });
    refused([](Parcel& p) { p.takes[1].second.analysis += " "; });
    refused([](Parcel& p) { p.takes[1].second.settings += " "; });
    refused([](Parcel& p) { p.takes.pop_back(); });
    refused([](Parcel& p) { p.takes.emplace_back(2, test::invented_take_content()); });
    refused([](Parcel& p) {
        p.entries.pop_back();
        p.entries.erase(p.entries.begin() + 1);
    });
    refused([](Parcel& p) { p.entries[4].stamp.by = "Somebody else"; });
    refused([](Parcel& p) { p.uid.back() = p.uid.back() == '0' ? '1' : '0'; });
    refused([](Parcel& p) { p.entries.clear(); });
}

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

TEST_CASE("erasing needs a name and a reason, and an erased visit is not taken in again") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId id = told(store);
    const Parcel parcel = store.pack(id);
    CHECK_THROWS_AS(store.erase(id, test::morning, ""), InputError);
    CHECK_THROWS_AS(store.erase(id, {"2031-05-14T08:30:00Z", ""}, "x"), InputError);
    CHECK(store.list({}).size() == 1);
    store.erase(id, test::morning, "test");
    CHECK_THROWS_AS(store.unpack(parcel), InputError);
    CHECK_THROWS_AS(store.erase(id, test::morning, "again"), InputError);
    CHECK(store.open_visit(test::morning, test::filling_on_16()) > id); // ids are not used twice
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

TEST_CASE("texts go in as they are, whatever they mean in SQL") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    Opened opened = test::filling_on_16();
    opened.label = "x'); DROP TABLE entry; -- :a ? \xC3\xA9\n\"";
    const VisitId id = store.open_visit(test::morning, opened);
    CHECK(store.load(id).opened.content.label == opened.label);
    CHECK(store.list({.text = "DROP"}).size() == 1);
    CHECK(store.verify(id).empty());
}
