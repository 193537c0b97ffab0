// What holds for every store, whatever it is kept in: these tests are built once for each (stores.hpp).
#include "visit/store.hpp"

#include "error.hpp"
#include "invented_visit.hpp"
#include "stores.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::before;

namespace {

/// A signed visit with a take on each side; takes are entries 3 and 4.
VisitId told(VisitStore& store) {
    const VisitId id = store.open_visit(test::morning, test::filling_on_16());
    store.add(id, test::holds(before, "hold 16 17 26"));
    store.add_take(id, before, test::at(1), test::take_named("before.wav"), test::invented_take_content(1));
    store.add_take(id, after, test::at(2), test::take_named("after.wav"), test::invented_take_content(2));
    store.add(id, test::feel(after, true, chart::Feel::high, "a bit high"));
    store.add(id, test::signature());
    return id;
}

std::vector<VisitId> ids(VisitStore& store, const VisitFilter& filter) {
    std::vector<VisitId> found;
    for (const VisitSummary& summary : store.list(filter)) {
        found.push_back(summary.id);
    }
    return found;
}

} // namespace

TEST_CASE("a visit is read back as it was written, by this and by the next opening of the store") {
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    VisitId id = 0;
    {
        const auto store_opened = stores.open("visits");
        VisitStore& store = *store_opened;
        id = told(store);
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
    CHECK_THROWS_WITH_AS((void)store.load(5), "There is no visit 5. See which there are with: retap visit list",
                         InputError);
    CHECK_THROWS_AS(store.add(5, test::signature()), InputError);
    CHECK_THROWS_AS((void)store.verify(5), InputError);
    CHECK_THROWS_AS((void)store.pack(5), InputError);
    CHECK_THROWS_AS(store.erase(5, test::morning, "x"), InputError);
}

TEST_CASE("the list finds visits by each filter and by all of them together") {
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto here_opened = stores.open("here");
    VisitStore& here = *here_opened;
    const auto there_opened = stores.open("there");
    VisitStore& there = *there_opened;
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
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto here_opened = stores.open("here");
    VisitStore& here = *here_opened;
    const auto there_opened = stores.open("there");
    VisitStore& there = *there_opened;
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

TEST_CASE("erasing needs a name and a reason, and an erased visit is not taken in again") {
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
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

TEST_CASE("texts go in as they are, whatever they mean in SQL") {
    test::Stores stores;
    if (!stores.there()) {
        return;
    }
    const auto store_opened = stores.open("visits");
    VisitStore& store = *store_opened;
    Opened opened = test::filling_on_16();
    opened.label = "x'); DROP TABLE entry; -- :a ? \xC3\xA9\n\"";
    const VisitId id = store.open_visit(test::morning, opened);
    CHECK(store.load(id).opened.content.label == opened.label);
    CHECK(store.list({.text = "DROP"}).size() == 1);
    CHECK(store.verify(id).empty());
}
