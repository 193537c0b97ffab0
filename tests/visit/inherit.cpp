#include "visit/inherit.hpp"

#include "error.hpp"
#include "invented_visit.hpp"
#include "temp_folder.hpp"
#include "visit/open_decision.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::before;

namespace {

const LookName recheck{LookKind::recheck, 1};
const Stamp next_day{"2031-05-15T08:00:00Z", "C. Other"};

/// A first day with a baseline, a look after the work of a numb patient, and the decision to wait.
struct TwoDays {
    test::TempFolder folder;
    SqliteStore store{folder / "visits.db"};
    VisitId first = store.open_visit(test::morning, test::filling_on_16());
    VisitId second = 0;

    TwoDays() {
        store.add(first, test::holds(before, "hold 16 17 26"));
        store.add(first, test::marks(before, "centric 16 MP"));
        store.add_take(first, before, test::at(1), test::take_named("before.wav"), test::invented_take_content(1));
        store.add(first, test::holds(after, "hold 17"));
        store.add(first, test::feel(after, true, chart::Feel::high));
        store.add(first, {test::at(5, "B. Teacher"), after, {}, Decided{Action::wait, "tomorrow"}});
        store.add(first, test::signature());
        second = store.open_following(first, next_day, test::filling_on_16());
    }
};

} // namespace

TEST_CASE("the day after has the baseline of the day before, sound and all, and what was left open") {
    TwoDays days;
    const Visit visit = days.store.load(days.second);
    REQUIRE(visit.baseline() != nullptr);
    CHECK(chart::write_holds(visit.baseline()->holds->content.holds, chart::Numbering::iso) == "hold 17 16 26");
    CHECK(visit.baseline()->marks->content.marks.marks.size() == 1);
    REQUIRE(visit.baseline()->takes.size() == 1);
    CHECK(days.store.take(days.second, visit.baseline()->takes[0].entry).flac == test::invented_take_content(1).flac);
    CHECK(visit.looks.size() == 1); // nothing of the look after the work
    REQUIRE(visit.decisions.size() == 1);
    CHECK(visit.decisions[0].content.words == "tomorrow");
    CHECK(visit.opened.content.follows == days.store.load(days.first).uid);
    CHECK(days.store.verify(days.second).empty());
}

TEST_CASE("what is taken over keeps when and by whom it was first written, through any number of visits") {
    TwoDays days;
    const Visit second = days.store.load(days.second);
    CHECK(second.baseline()->takes[0].stamp == next_day);
    CHECK(second.baseline()->takes[0].first_said() == test::at(1));
    CHECK(open_decision(second)->decision.first_said() == test::at(5, "B. Teacher"));
    const Stamp later{"2031-05-16T08:00:00Z", "C. Other"};
    const Visit third = days.store.load(days.store.open_following(days.second, later, test::filling_on_16()));
    REQUIRE(third.baseline() != nullptr);
    CHECK(third.baseline()->takes[0].stamp == later);
    CHECK(third.baseline()->takes[0].first_said() == test::at(1));
    CHECK(third.baseline()->takes[0].inherited->uid == days.store.load(days.first).uid);
    CHECK(third.baseline()->takes[0].inherited->entry == 4);
}

TEST_CASE("the chain is known from both ends, and what is gone from it is said") {
    TwoDays days;
    const VisitId third = days.store.open_following(days.second, next_day, test::filling_on_16());
    CHECK(days.store.load(days.first).chain.later.at(0).id == days.second);
    const Chain chain = days.store.load(third).chain;
    REQUIRE(chain.earlier.size() == 2);
    CHECK(chain.earlier[0].id == days.second);
    CHECK(chain.earlier[1].id == days.first);
    CHECK(sentences(chain).at(0).starts_with("Continues visit 2 (C-1042, opened 2031-05-15 "));
    CHECK(sentences(days.store.load(days.first).chain).at(0).starts_with("Is continued by visit 2 (C-1042, opened "));
    days.store.erase(days.second, next_day, "asked for by the patient");
    CHECK(sentences(days.store.load(third).chain) == std::vector<std::string>{"Continues a visit that was erased."});
    CHECK(days.store.load(third).baseline() != nullptr); // its own copy
}

TEST_CASE("a recheck of the day after closes what was left open, and the first day waits no longer") {
    TwoDays days;
    const auto waiting = days.store.list({.waiting = true});
    REQUIRE(waiting.size() == 1);
    CHECK(waiting[0].id == days.second);
    CHECK(waiting[0].open->since == test::at(5, "B. Teacher"));
    days.store.add(days.second, test::holds(recheck, "hold 16 17 26", next_day));
    CHECK(days.store.list({.waiting = true}).empty());
}

TEST_CASE("nothing of the day after can become part of a baseline from before the work") {
    TwoDays days;
    CHECK_THROWS_WITH_AS(days.store.add_take(days.second, before, next_day, test::take_named("today.wav"),
                                             test::invented_take_content(2)),
                         doctest::Contains("belongs to the look 'recheck'"), InputError);
    const int holds = days.store.load(days.second).baseline()->holds->entry;
    days.store.add(days.second, test::correcting(holds, test::holds(before, "hold 16", next_day)));
    CHECK(days.store.load(days.second).baseline()->holds->content.holds.size() == 1);
}

TEST_CASE("other teeth take nothing over but stay linked") {
    TwoDays days;
    Opened other = test::filling_on_16();
    other.treated = chart::read_teeth("26", chart::Numbering::iso);
    const Visit visit = days.store.load(days.store.open_following(days.first, next_day, other));
    CHECK(visit.looks.empty());
    CHECK(visit.decisions.empty());
    CHECK(visit.chain.earlier.at(0).id == days.first);
}

TEST_CASE("a visit that took things over travels whole, and no other visit may hold such things") {
    TwoDays days;
    SqliteStore there(days.folder / "there.db");
    const Parcel parcel = days.store.pack(days.second);
    const VisitId arrived = there.unpack(parcel);
    CHECK(there.verify(arrived).empty());
    CHECK(there.load(arrived).digest() == days.store.load(days.second).digest());
    CHECK(sentences(there.load(arrived).chain) ==
          std::vector<std::string>{"Continues a visit that is not in this store."});
    NewEntry strange = test::holds(before, "hold 16");
    strange.inherited = Inherited{"0123", 2, test::morning};
    const VisitId alone = days.store.open_visit(test::morning, test::filling_on_16());
    CHECK_THROWS_AS(days.store.add(alone, strange), InputError);
    strange.look = recheck;
    CHECK_THROWS_AS(days.store.add(days.second, strange), InputError);
}

TEST_CASE("a following visit that cannot be opened leaves nothing") {
    TwoDays days;
    const std::size_t there = days.store.list({}).size();
    Opened blank = test::filling_on_16();
    blank.label = " ";
    CHECK_THROWS_AS(days.store.open_following(days.first, next_day, blank), InputError);
    CHECK_THROWS_AS(days.store.open_following(99, next_day, test::filling_on_16()), InputError);
    CHECK(days.store.list({}).size() == there);
}

TEST_CASE("what is next on the day after is to look again, not to restore") {
    TwoDays days;
    const Visit visit = days.store.load(days.second);
    CHECK(situation_of(visit, visit.latest()).restored);
}
