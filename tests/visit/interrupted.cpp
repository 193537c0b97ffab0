// Programs that are killed in the middle of writing, and programs that write at once.
#include "error.hpp"
#include "invented_visit.hpp"
#include "raw_sqlite.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <map>
#include <random>
#include <sys/wait.h>
#include <unistd.h>

using namespace retap;
using namespace retap::visit;

namespace {

/// What the writing program said had been written.
struct Told {
    std::int64_t visit = 0;
    std::int64_t number = 0;
};

/// Writes visits until it is killed; tells of each entry after it was written.
[[noreturn]] void write_for_ever(const std::filesystem::path& file, int tell) {
    const auto told = [tell](const Told& what) {
        if (write(tell, &what, sizeof what) != sizeof what) {
            _exit(1);
        }
    };
    SqliteStore store(file);
    for (int round = 0;; ++round) {
        const VisitId id = store.open_visit(test::morning, test::filling_on_16());
        told({id, 1});
        told({id, store.add(id, test::holds(test::before, "hold 16 17"))});
        told({id, store.add_take(id, test::before, test::morning, test::take_named("x"),
                                 test::invented_take_content(round, 60000))});
        told({id, store.add(id, test::correcting(2, test::holds(test::before, "hold 16")))});
        told({id, store.add(id, test::signature())});
        if (round % 3 == 2) {
            store.erase(id - 1, test::morning, "test");
            told({id - 1, 0});
        }
    }
}

/// A child that runs `work` and whose pipe is read here.
class Child {
public:
    template <class Work>
    explicit Child(Work work) {
        int ends[2] = {-1, -1};
        REQUIRE(pipe(ends) == 0);
        process_ = fork();
        REQUIRE(process_ >= 0);
        if (process_ == 0) {
            close(ends[0]);
            try {
                work(ends[1]);
            } catch (...) {
                _exit(1);
            }
            _exit(0);
        }
        close(ends[1]);
        from_ = ends[0];
    }
    ~Child() { close(from_); }
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;
    Child(Child&&) = delete;
    Child& operator=(Child&&) = delete;

    bool read_one(Told& told) const { return read(from_, &told, sizeof told) == sizeof told; }
    void stop() const { kill(process_, SIGKILL); }
    int wait() const {
        int status = -1;
        waitpid(process_, &status, 0);
        return status;
    }

private:
    pid_t process_ = -1;
    int from_ = -1;
};

} // namespace

TEST_CASE("a program killed while it writes loses nothing that it said was written and leaves nothing half done") {
    constexpr int kills = 60;
    std::mt19937 random(20310514);
    const test::TempFolder folder;
    const auto file = folder / "visits.db";
    std::map<VisitId, std::int64_t> last; // by visit, the last entry it was told of; 0: erased
    for (int round = 0; round < kills; ++round) {
        CAPTURE(round);
        const Child child([&](int tell) { write_for_ever(file, tell); });
        // At a random moment after a random number of writes: the pause falls somewhere into the ones that follow.
        Told told;
        for (auto n = random() % 12; n > 0 && child.read_one(told); --n) {
            last[told.visit] = told.number;
        }
        usleep(static_cast<useconds_t>(random() % 15000));
        child.stop();
        child.wait();
        while (child.read_one(told)) {
            last[told.visit] = told.number;
        }
        REQUIRE(test::RawSqlite(file).value("PRAGMA integrity_check") == "ok");
        SqliteStore store(file);
        std::size_t erased = 0;
        for (const auto& [id, number] : last) {
            if (number == 0) {
                ++erased;
                continue;
            }
            try {
                const Visit visit = store.load(id);
                REQUIRE(static_cast<std::int64_t>(visit.entries.size()) >= number);
            } catch (const InputError&) {
                ++erased; // killed between erasing it and saying so
            }
        }
        REQUIRE(store.erased().size() >= erased);
        REQUIRE(store.erased().size() <= erased + 1);
        for (const VisitSummary& summary : store.list({.limit = 8})) {
            REQUIRE(store.verify(summary.id).empty());
        }
    }
    SqliteStore store(file);
    for (const VisitSummary& summary : store.list({})) {
        REQUIRE(store.verify(summary.id).empty());
    }
    CHECK(last.size() > static_cast<std::size_t>(kills) / 2); // it did write in between
}

TEST_CASE("two programs writing into one visit and opening visits lose none and number them without a gap") {
    constexpr int each = 60;
    const test::TempFolder folder;
    const auto file = folder / "visits.db";
    VisitId shared = 0;
    {
        SqliteStore store(file);
        shared = store.open_visit(test::morning, test::filling_on_16());
    }
    const auto work = [&](const std::string& who) {
        return [&, who](int /*tell*/) {
            SqliteStore store(file);
            for (int i = 0; i < each; ++i) {
                store.add(shared, {test::at(i % 60, who), {}, {}, Decided{Action::other, std::to_string(i)}});
                (void)store.open_visit(test::at(i % 60, who), test::filling_on_16());
            }
        };
    };
    {
        const Child one(work("one"));
        const Child two(work("two"));
        CHECK(one.wait() == 0);
        CHECK(two.wait() == 0);
    }
    SqliteStore store(file);
    CHECK(store.verify(shared).empty());
    const Visit visit = store.load(shared);
    CHECK(visit.entries.size() == 1 + 2 * each);
    std::map<std::string, int> next;
    for (const auto& decision : visit.decisions) {
        CHECK(decision.content.words == std::to_string(next[decision.stamp.by]++)); // each writer's own order is kept
    }
    CHECK(next["one"] == each);
    CHECK(next["two"] == each);
    CHECK(store.list({}).size() == 1 + 2 * each);
}

TEST_CASE("two programs that make the same new store at the same moment both find it") {
    for (int round = 0; round < 10; ++round) {
        const test::TempFolder folder;
        const auto file = folder / "new/visits.db";
        const auto work = [&](int /*tell*/) {
            SqliteStore store(file);
            (void)store.open_visit(test::morning, test::filling_on_16());
        };
        {
            const Child one(work);
            const Child two(work);
            CHECK(one.wait() == 0);
            CHECK(two.wait() == 0);
        }
        CHECK(SqliteStore(file).list({}).size() == 2);
    }
}
