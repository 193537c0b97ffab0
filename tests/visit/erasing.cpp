// What is left of erased visits and of backups that were cut short: nothing, in no file of the store.
#include "error.hpp"
#include "invented_visit.hpp"
#include "raw_sqlite.hpp"
#include "temp_folder.hpp"
#include "visit/backup_copy.hpp"
#include "visit/chain.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <string>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <vector>

using namespace retap;
using namespace retap::visit;

namespace {

/// Labels of one length that stand for nothing else.
std::string label_of(int visit, int turn) {
    return "SOUGHT-" + std::to_string(10000 + visit) + "-" + std::to_string(1000 + turn) +
           std::string(static_cast<std::size_t>((visit * 7 + turn * 3) % 60), 'x');
}

/// A visit whose label was corrected again and again.
Parcel visit_of_many_labels(int visit, int labels) {
    Parcel parcel{"uid-" + std::to_string(visit), {}, {}};
    Opened opened = test::filling_on_16();
    for (int turn = 0; turn < labels; ++turn) {
        opened.label = label_of(visit, turn);
        const auto correction = turn == 0 ? std::nullopt : std::optional(Correction{turn, "typed wrongly"});
        Entry entry{{test::morning, {}, correction, opened}, turn + 1, {}};
        entry.digest = chained_digest(turn == 0 ? "" : parcel.entries.back().digest, parcel.uid, entry.number, entry);
        parcel.entries.push_back(entry);
    }
    return parcel;
}

std::string found_in(const std::filesystem::path& file) {
    const std::string bytes = std::filesystem::exists(file) ? test::bytes_of(file) : std::string();
    const std::size_t at = bytes.find("SOUGHT-");
    return at == std::string::npos ? "" : file.filename().string() + ": " + bytes.substr(at, 18);
}

int hidden_files(const test::TempFolder& folder) {
    int count = 0;
    for (const auto& file : std::filesystem::directory_iterator(folder.path())) {
        count += file.path().filename().string().starts_with('.') ? 1 : 0;
    }
    return count;
}

} // namespace

// A first program, which only overwrote what it deleted, left about 3 of 1000 labels in gaps of pages in use: with
// 10000 labels of many lengths, moved about by each correction, some thirty.
TEST_CASE("of ten thousand labels that were erased none is left in the store, its log or a backup") {
    constexpr int visits = 250;
    constexpr int labels = 40;
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    std::vector<VisitId> gone;
    std::vector<VisitId> kept;
    for (int i = 0; i < visits; ++i) {
        gone.push_back(store.unpack(visit_of_many_labels(i, labels)));
        if (i % 2 == 0) { // pages are shared with what stays
            Opened opened = test::filling_on_16();
            opened.label = "C-" + std::to_string(i);
            kept.push_back(store.open_visit(test::morning, opened));
        }
    }
    for (int i = 0; i < visits; ++i) {
        store.erase(gone.at(static_cast<std::size_t>(i * 7 % visits)), test::morning, "asked for by the patient");
    }
    CHECK(found_in(folder / "visits.db").empty());
    CHECK(found_in(folder / "visits.db-wal").empty());
    store.backup(folder / "backup.db");
    CHECK(found_in(folder / "backup.db").empty());
    CHECK(store.verify(kept.front()).empty());
    CHECK(store.list({}).size() == kept.size());
    CHECK(store.erased().size() == visits);
}

TEST_CASE("erasing while another program reads says that traces may stay, and the next opening takes them away") {
    const test::TempFolder folder;
    {
        SqliteStore store(folder / "visits.db");
        Opened opened = test::filling_on_16();
        opened.label = label_of(1, 1);
        const VisitId id = store.open_visit(test::morning, opened);
        test::RawSqlite reader(folder / "visits.db");
        REQUIRE(reader.run("BEGIN; SELECT count(*) FROM entry").empty());
        CHECK_THROWS_WITH_AS(store.erase(id, test::morning, "asked for"), doctest::Contains("traces may stay"),
                             StoreError);
        CHECK(store.list({}).empty());
        reader.run("ROLLBACK");
        CHECK(test::RawSqlite(folder / "visits.db").value("SELECT count(*) FROM pending") == "1");
    }
    SqliteStore store(folder / "visits.db");
    CHECK(test::RawSqlite(folder / "visits.db").value("SELECT count(*) FROM pending") == "0");
    CHECK(found_in(folder / "visits.db").empty());
    CHECK(found_in(folder / "visits.db-wal").empty());
}

TEST_CASE("a visit is discarded while it holds nothing, and only then") {
    const test::TempFolder folder;
    {
        SqliteStore store(folder / "visits.db");
        Opened opened = test::filling_on_16();
        opened.label = label_of(2, 1);
        const VisitId empty = store.open_visit(test::morning, opened);
        opened.label = label_of(2, 2);
        store.add(empty, {test::morning, {}, Correction{1, "typed wrongly"}, opened});
        const Tombstone stone = store.discard(empty, test::at(1));
        CHECK(stone.reason == "opened by mistake; it held nothing");
        CHECK_THROWS_AS((void)store.load(empty), InputError);

        const VisitId used = store.open_visit(test::morning, test::filling_on_16());
        const int entry = store.add(used, test::holds(test::before, "hold 16"));
        CHECK_THROWS_WITH_AS(store.discard(used, test::at(1)), doctest::Contains("holds something"), InputError);
        store.add(used, {test::morning, test::before, Correction{entry, "other patient"}, Withdrawn{}});
        CHECK_THROWS_AS(store.discard(used, test::at(1)), InputError); // what was withdrawn is still in the record
        const VisitId next = store.open_following(used, test::at(2), test::filling_on_16());
        store.discard(next, test::at(3));
        CHECK(store.list({}).size() == 1);
        CHECK_THROWS_AS(store.discard(99, test::at(1)), InputError);
    }
    SqliteStore store(folder / "visits.db"); // traces go at the next opening
    CHECK(found_in(folder / "visits.db").empty());
    CHECK(found_in(folder / "visits.db-wal").empty());
}

TEST_CASE("the copy that a killed backup leaves goes at the next opening of the store, or at the next backup there") {
    for (const bool reopened : {true, false}) {
        CAPTURE(reopened);
        const test::TempFolder folder;
        {
            SqliteStore store(folder / "visits.db");
            const VisitId id = store.open_visit(test::morning, test::filling_on_16());
            store.add_take(id, test::before, test::morning, test::take_named("x"),
                           test::invented_take_content(1, 20'000'000));
        }
        int killed_in_time = 0;
        for (int round = 0; round < 40 && killed_in_time == 0; ++round) {
            const pid_t child = fork();
            REQUIRE(child >= 0);
            if (child == 0) {
                try {
                    SqliteStore(folder / "visits.db").backup(folder / ("backup" + std::to_string(round) + ".db"));
                } catch (...) {
                    _exit(1);
                }
                _exit(0);
            }
            bool ended = false; // killed as soon as something of the copy is there
            while (!ended && hidden_files(folder) == 0) {
                ended = waitpid(child, nullptr, WNOHANG) == child;
            }
            if (!ended) {
                kill(child, SIGKILL);
                waitpid(child, nullptr, 0);
            }
            killed_in_time = hidden_files(folder);
        }
        REQUIRE(killed_in_time >= 1); // the copy, and SQLite's journal of it
        if (reopened) {
            SqliteStore store(folder / "visits.db");
            CHECK(hidden_files(folder) == 0);
            CHECK(store.list({}).size() == 1);
        } else {
            test::RawSqlite(folder / "visits.db").run("DELETE FROM pending");
            SqliteStore(folder / "visits.db").backup(folder / "whole.db");
            CHECK(hidden_files(folder) == 0);
        }
    }
}

TEST_CASE("copies that are being written and files of others are left alone") {
    const test::TempFolder folder;
    BackupCopy busy(folder / "a.db");
    busy.make();
    for (const char* name : {".a.db.backup", ".a.db.retap-backup.", ".retap-backup.abcdef", "a.db.retap-backup.abcdef",
                             ".a.db.retap-backup.abcdefg", ".t.wav.aBcDeF"}) {
        test::put_bytes(folder / name, "somebody's");
    }
    std::filesystem::create_directory(folder / ".b.db.retap-backup.folder");
    const auto before = folder.entries();
    remove_dead_copies(folder / "a.db");
    CHECK(folder.entries() == before);
    CHECK_FALSE(remove_dead_copy(busy.path()));
    test::put_bytes(folder / ".a.db.retap-backup.aBcDeF", "left");
    remove_dead_copies(folder / "a.db");
    CHECK(folder.entries() == before);
}
