#include "visit/cohort.hpp"

#include "invented_visit.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::after2;
using test::before;

namespace {

/// A take of the look, and its comparison.
void heard(VisitStore& store, VisitId id, LookName look, int baseline, int minute, compare::Verdict verdict) {
    const int take =
        store.add_take(id, look, test::at(minute), test::take_named("t"), test::invented_take_content(minute));
    Compared compared;
    compared.verdict = verdict;
    compared.before_takes = {baseline};
    compared.now_takes = {take};
    store.add(id, {test::at(minute), look, {}, compared});
}

Opened opened_by(const std::string& worker) {
    Opened opened = test::filling_on_16();
    opened.worker = worker;
    return opened;
}

} // namespace

TEST_CASE("the interval of a share is Wilson's") {
    // Newcombe 1998, Stat Med 17:857-872, table I, score method without continuity correction (its values from memory,
    // and worked out anew by the formula).
    const auto near = [](Share share, double low, double high) {
        CHECK(share.interval()->first == doctest::Approx(low).epsilon(0.001));
        CHECK(share.interval()->second == doctest::Approx(high).epsilon(0.001));
    };
    near({81, 263}, 0.2553, 0.3662);
    near({15, 148}, 0.0624, 0.1605);
    near({1, 29}, 0.0061, 0.1718);
    CHECK(Share{0, 20}.interval()->first == 0.0);
    CHECK(Share{0, 20}.interval()->second == doctest::Approx(0.1611).epsilon(0.001));
    CHECK_FALSE(Share{}.interval());
}

TEST_CASE("the figures of a cohort count what they say, by person and half of a year") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId one = store.open_visit(test::morning, opened_by("A. Student"));
    store.add(one, test::holds(before, "hold 16 17 26; slide 27"));
    const int base = store.add_take(one, before, test::at(1), test::take_named("b"), test::invented_take_content(1));
    store.add(one, test::holds(after, "hold 16 27; slide 17")); // 26 was not tested again
    heard(store, one, after, base, 5, compare::Verdict::different);
    store.add(one, test::holds(after2, "hold 16 17; open 26"));
    heard(store, one, after2, base, 9, compare::Verdict::alike);
    const VisitId two = store.open_visit(test::morning, opened_by("A. Student"));
    store.add(two, {test::at(10), {}, {}, Decided{Action::wait, "in a week"}});
    (void)store.open_following(two, {"2031-05-21T08:00:00Z", "A. Student"}, opened_by("A. Student"));
    (void)store.open_visit({"2031-07-01T00:00:00Z", "A. Student"}, opened_by("A. Student"));
    (void)store.open_visit(test::morning, opened_by("C. Other"));

    const auto rows = cohort(store, {}, {.names = true});
    REQUIRE(rows.size() == 3);
    const CohortRow& row = rows[0];
    CHECK(row.label == "A. Student");
    CHECK(row.term == "2031-1");
    CHECK(row.visits == 3);
    CHECK(row.complete.yes == 1);
    CHECK(row.complete.of == 3);
    CHECK(row.holds_kept.yes == 2); // 16 and 17 at the last look, 26 is open
    CHECK(row.holds_kept.of == 3);
    CHECK(row.as_before.yes == 1);
    CHECK(row.as_before.of == 1);
    CHECK(row.different == 0);
    CHECK(row.adjustments == 1.0);
    CHECK(row.rechecks_kept.yes == 1);
    CHECK(rows[1].term == "2031-2");
    CHECK(rows[1].visits == 1);
    CHECK_FALSE(rows[1].adjustments);
    CHECK(rows[2].label == "C. Other");
    CHECK(cohort(store, {.since = "2031-07"}, {}).size() == 1);
}

TEST_CASE("without being asked for, names are not shown, and a pseudonym stays the same") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    (void)store.open_visit(test::morning, opened_by("A. Student"));
    const auto rows = cohort(store, {}, {});
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].label == pseudonym("A. Student"));
    CHECK(rows[0].label.size() == 8);
    CHECK(rows[0].label.find("Student") == std::string::npos);
    CHECK(pseudonym("A. Student") != pseudonym("C. Other"));
}
