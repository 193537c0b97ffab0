// Carrying between two stores of whatever kind this program is linked with (stores.hpp).
#include "visit/carry.hpp"

#include "error.hpp"
#include "invented_visit.hpp"
#include "stores.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <sys/stat.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::before;

namespace {

/// A chair and a clinic, each seen as a store and as an end of carrying.
struct Both {
    test::Stores stores;
    std::unique_ptr<VisitStore> chair = stores.open("chair");
    std::unique_ptr<VisitStore> clinic = stores.open("clinic");
    CarryEnd& here = dynamic_cast<CarryEnd&>(*chair);
    CarryEnd& there = dynamic_cast<CarryEnd&>(*clinic);
    CarryNotes notes{};

    CarryReport carry() { return visit::carry(here, there, notes); }
    VisitId visit_with_take() const {
        const VisitId id = chair->open_visit(test::morning, test::filling_on_16());
        chair->add(id, test::holds(before, "hold 16 17 26"));
        chair->add_take(id, before, test::at(1), test::take_named("x"), test::invented_take_content(1));
        return id;
    }
    std::string kept(VisitId id) { return where_kept(*here.head(chair->load(id).uid), notes); }
};

/// Lets so many entries through and then fails, as a network does.
class Failing : public CarryEnd {
public:
    Failing(CarryEnd& end, int left) : end_(end), left_(left) {}
    std::vector<Head> heads() override { return end_.heads(); }
    std::optional<Head> head(const std::string& uid) override { return end_.head(uid); }
    bool was_erased(const std::string& uid) override { return end_.was_erased(uid); }
    std::vector<Entry> entries_of_visit(VisitId id) override { return end_.entries_of_visit(id); }
    TakeContent content_of_take(VisitId id, int entry) override { return end_.content_of_take(id, entry); }
    int take_in(const std::string& uid, const std::vector<Entry>& entries,
                const std::function<TakeContent(int)>& content) override {
        int added = 0;
        for (const Entry& entry : entries) {
            if (left_-- <= 0) {
                throw StoreError("The connection was cut.");
            }
            added += end_.take_in(uid, {entry}, content);
            if (left_ == 0) { // it was done, and the answer is lost
                throw StoreError("The connection was cut.");
            }
        }
        return added;
    }
    bool answers() override { return left_ > 0; }

private:
    CarryEnd& end_;
    int left_;
};

} // namespace

TEST_CASE("what is entered at the chair comes to the clinic, and what is added there comes back, each entry once") {
    Both both;
    const VisitId id = both.visit_with_take();
    CHECK(both.kept(id) == "kept here");
    CHECK(both.carry().up == 3);
    CHECK(both.kept(id) == "kept in the clinic");
    REQUIRE(both.clinic->list({}).size() == 1);
    const VisitId far = both.clinic->list({}).at(0).id;
    CHECK(both.clinic->verify(far).empty());
    CHECK(both.clinic->load(far).digest() == both.chair->load(id).digest());
    CHECK(both.clinic->take(far, 3).flac == test::invented_take_content(1).flac);
    const CarryReport again = both.carry();
    CHECK(again.up + again.down == 0);

    both.chair->add(id, test::feel(after, true, chart::Feel::high));
    CHECK(both.kept(id) == "kept here, 1 entry waits");
    CHECK(both.carry().up == 1);
    both.clinic->add(far, test::signature());
    CHECK(both.carry().down == 1);
    CHECK(both.chair->load(id).closed());
    CHECK(both.chair->verify(id).empty());
    CHECK(both.kept(id) == "kept in the clinic");
    CHECK(both.clinic->load(far).entries.size() == 5);
}

TEST_CASE("cut off after every entry, with and without the answer, carrying ends with everything once and in order") {
    Both both;
    const VisitId one = both.visit_with_take();
    const VisitId two = both.visit_with_take();
    both.chair->add(two, test::feel(after, true, chart::Feel::high));
    int cuts = 0;
    for (bool done = false; !done && cuts < 50;) {
        Failing weak(both.there, 1);
        try {
            (void)carry(both.here, weak, both.notes);
            done = true;
        } catch (const StoreError&) {
            ++cuts;
        }
    }
    CHECK(cuts == 7); // one for each entry
    CHECK(both.clinic->list({}).size() == 2);
    for (const VisitId id : {one, two}) {
        const Visit ours = both.chair->load(id);
        const auto there = both.there.head(ours.uid);
        REQUIRE(there);
        CHECK(there->digest == ours.digest());
        CHECK(both.clinic->verify(there->id).empty());
    }
}

TEST_CASE("what two chairs wrote after the same entry is kept twice, is told of, and is not doubled by carrying on") {
    Both both;
    const VisitId id = both.visit_with_take();
    (void)both.carry();
    const VisitId far = both.clinic->list({}).at(0).id;
    both.clinic->add(far, test::feel(after, true, chart::Feel::high, "there"));
    both.chair->add(id, test::feel(after, true, chart::Feel::high, "here"));
    const CarryReport report = both.carry();
    CHECK(report.up == 4);
    CHECK(report.down == 0);
    REQUIRE(report.told.size() == 1);
    CHECK(
        report.told[0].starts_with("Visit 1 was continued elsewhere too, after entry 3. Both are kept in the clinic"));
    CHECK(both.kept(id) == "kept in the clinic, beside another version");
    CHECK(both.clinic->list({}).size() == 2);
    for (const VisitSummary& visit : both.clinic->list({})) {
        CHECK(both.clinic->verify(visit.id).empty());
        CHECK(both.clinic->load(visit.id).look(after)->feel->content.words == (visit.id == far ? "there" : "here"));
    }
    both.chair->add(id, test::feel(after, false, chart::Feel::high, "later"));
    CHECK(both.carry().up == 1);
    CHECK(both.carry().up == 0);
    CHECK(both.clinic->list({}).size() == 2);
    both.notes.clear(); // as when the file with them is lost
    CHECK(both.carry().up == 0);
    CHECK(both.kept(id) == "kept in the clinic, beside another version");
}

TEST_CASE("a visit that was erased in the clinic does not come back, and keeps no other waiting") {
    Both both;
    const VisitId gone = both.visit_with_take();
    (void)both.carry();
    (void)both.clinic->erase(both.clinic->list({}).at(0).id, test::morning, "asked for");
    both.visit_with_take();
    const CarryReport report = both.carry();
    CHECK(report.up == 3);
    REQUIRE(report.told.size() == 1);
    CHECK(report.told[0].starts_with("Visit " + std::to_string(gone) +
                                     " was erased in the clinic and is still kept here"));
    CHECK(both.clinic->list({}).size() == 1);
}

TEST_CASE("a visit that does not follow on is not taken in, in no part") {
    Both both;
    const VisitId id = both.visit_with_take();
    const std::string uid = both.chair->load(id).uid;
    auto entries = both.here.entries_of_visit(id);
    const auto content = [&](int entry) { return both.here.content_of_take(id, entry); };
    const auto refused = [&](const std::vector<Entry>& changed, const std::string& under) {
        CHECK_THROWS_AS(both.there.take_in(under, changed, content), InputError);
        CHECK(both.clinic->list({}).empty());
    };
    refused({entries[1]}, uid);
    refused({entries[0], entries[2]}, uid);
    refused(entries, "0123456789abcdef0123456789abcdef");
    auto other = entries;
    other[1].stamp.by = "Somebody";
    refused(other, uid);
    CHECK_THROWS_AS(both.there.take_in(uid, entries, [](int) { return test::invented_take_content(5); }), InputError);
    CHECK(both.clinic->list({}).empty());
    CHECK(both.there.take_in(uid, entries, content) == 3);
    CHECK(both.there.take_in(uid, entries, content) == 0);
}

TEST_CASE("a visit of the clinic is fetched to a chair that does not have it, whole, and goes on from there") {
    Both both;
    const VisitId id = both.visit_with_take();
    CHECK(fetch_visit(both.there, both.here, id) == 3); // the other way round: the chair has it
    CHECK(both.clinic->verify(both.clinic->list({}).at(0).id).empty());
    CHECK(fetch_visit(both.there, both.here, id) == 0);
    CHECK_THROWS_AS(fetch_visit(both.there, both.here, 99), InputError);
}

TEST_CASE("the notes of what is where are read back as they were written, for the owner alone") {
    const test::TempFolder folder;
    const CarryNotes notes = {{"u1", {3, "d", "", ""}}, {"u2", {0, "", "u9", "Visit 2 waits, and says why."}}};
    const std::string file = (folder / "notes").string();
    CHECK(read_carry_notes(file).empty());
    write_carry_notes(file, notes);
    CHECK(read_carry_notes(file) == notes);
    struct stat state {};
    REQUIRE(stat(file.c_str(), &state) == 0);
    CHECK((state.st_mode & 0777U) == 0600U);
}
