#include "visit/open_decision.hpp"

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

NewEntry decided(Action action, std::optional<LookName> look, Stamp stamp = test::morning) {
    return {std::move(stamp), look, {}, Decided{action, ""}};
}

struct Clinic {
    test::TempFolder folder;
    SqliteStore store{folder / "visits.db"};
    VisitId id = store.open_visit(test::morning, test::filling_on_16());

    [[nodiscard]] std::optional<Action> open() {
        const auto found = open_decision(store.load(id));
        return found ? std::optional(found->decision.content.action) : std::nullopt;
    }
};

} // namespace

TEST_CASE("a decision to wait stays open until something is charted on another look") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::holds(before, "hold 16"));
    clinic.store.add(clinic.id, test::feel(after, true, chart::Feel::high));
    CHECK_FALSE(clinic.open());
    clinic.store.add(clinic.id, decided(Action::wait, after, test::at(5)));
    CHECK(clinic.open() == Action::wait);
    clinic.store.add(clinic.id, test::marks(after, "16 CF")); // more of the same look: still to wait
    REQUIRE(clinic.open() == Action::wait);
    const OpenDecision open = *open_decision(clinic.store.load(clinic.id));
    CHECK(open.look == after);
    CHECK(open.numb == true);
    CHECK(open.decision.first_said() == test::at(5));
    clinic.store.add(clinic.id, test::holds({LookKind::recheck, 1}, "hold 16"));
    CHECK_FALSE(clinic.open());
}

TEST_CASE("a decision to adjust is open until the next look, and a later decision takes its place") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::holds(after, "hold 16"));
    clinic.store.add(clinic.id, decided(Action::adjust, after));
    CHECK(clinic.open() == Action::adjust);
    clinic.store.add(clinic.id, decided(Action::leave, after));
    CHECK_FALSE(clinic.open());
    clinic.store.add(clinic.id, decided(Action::adjust, {})); // said of no look: of the last one
    CHECK(clinic.open() == Action::adjust);
    clinic.store.add(clinic.id, test::holds(after2, "hold 16"));
    CHECK_FALSE(clinic.open());
}

TEST_CASE("a decision noted afterwards for an earlier look opens nothing and closes nothing") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::holds(after, "hold 16"));
    clinic.store.add(clinic.id, test::holds(after2, "hold 16"));
    clinic.store.add(clinic.id, decided(Action::adjust, after));
    CHECK_FALSE(clinic.open());
    clinic.store.add(clinic.id, decided(Action::wait, after2));
    clinic.store.add(clinic.id, decided(Action::leave, after));
    CHECK(clinic.open() == Action::wait);
}

TEST_CASE("a decision that was withdrawn is not open, and signing leaves open what is") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::holds(after, "hold 16"));
    const int number = clinic.store.add(clinic.id, decided(Action::adjust, after));
    NewEntry back{test::morning, after, Correction{number, "not agreed"}, Withdrawn{}};
    clinic.store.add(clinic.id, back);
    CHECK_FALSE(clinic.open());
    clinic.store.add(clinic.id, decided(Action::wait, after));
    clinic.store.add(clinic.id, test::signature());
    CHECK(clinic.open() == Action::wait);
}

TEST_CASE("the list finds what waits, since when, by whom and whether the patient was numb") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::feel(after, true, chart::Feel::high));
    clinic.store.add(clinic.id, decided(Action::wait, after, test::at(7, "B. Teacher")));
    clinic.store.add(clinic.id, test::signature());
    const VisitId other = clinic.store.open_visit(test::at(9), test::filling_on_16());
    const auto waiting = clinic.store.list({.waiting = true});
    REQUIRE(waiting.size() == 1);
    CHECK(waiting[0].id == clinic.id);
    REQUIRE(waiting[0].open);
    CHECK(waiting[0].open->since == test::at(7, "B. Teacher"));
    CHECK(waiting[0].open->numb == true);
    CHECK(waiting[0].waiting());
    CHECK(clinic.store.list({.waiting_until = "2031-05-14"}).size() == 1);
    CHECK(clinic.store.list({.waiting_until = "2031-05-13"}).empty());
    CHECK(clinic.store.verify(other).empty());
}

TEST_CASE("a visit that another continues waits no longer") {
    Clinic clinic;
    clinic.store.add(clinic.id, test::feel(after, true, chart::Feel::high));
    clinic.store.add(clinic.id, decided(Action::wait, after));
    Opened next = test::filling_on_16();
    next.follows = clinic.store.load(clinic.id).uid;
    const VisitId second = clinic.store.open_visit(test::at(9), next);
    CHECK(clinic.store.list({.waiting = true}).empty());
    CHECK(clinic.store.list({}).at(0).follows == next.follows);
    CHECK(clinic.store.list({}).at(1).followed);
    clinic.store.erase(second, test::at(10), "opened by mistake");
    CHECK(clinic.store.list({.waiting = true}).size() == 1);
}

TEST_CASE("whether a look is the last one is told by what the looks hold") {
    Clinic clinic;
    CHECK(is_last(clinic.store.load(clinic.id), after));
    clinic.store.add(clinic.id, test::holds(after, "hold 16"));
    CHECK(is_last(clinic.store.load(clinic.id), after));
    CHECK_FALSE(is_last(clinic.store.load(clinic.id), before));
}
