#include "error.hpp"
#include "invented_visit.hpp"
#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"
#include "visit/visit.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::after2;
using test::before;

namespace {

/// A visit with holds in entry 2, and with `more` after them.
Visit visit_with(const std::vector<NewEntry>& more = {}) {
    std::vector<Entry> written{{{test::morning, {}, {}, test::filling_on_16()}, 1, "x"},
                               {test::holds(before, "hold 16 17"), 2, "x"}};
    for (const NewEntry& entry : more) {
        written.push_back({entry, static_cast<int>(written.size()) + 1, "x"});
    }
    return fold(7, "uid", written);
}

std::string refusal(const Visit& visit, const NewEntry& entry) {
    try {
        check_entry(visit, entry);
    } catch (const InputError& error) {
        return error.what();
    }
    return "";
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

const NewEntry withdrawal{test::morning, before, {}, Withdrawn{}};

} // namespace

TEST_CASE("entries that fit are let in") {
    const Visit visit = visit_with();
    CHECK(refusal(visit, test::marks(before, "16 CF")).empty());
    CHECK(refusal(visit, test::holds(after, "hold 16")).empty());
    CHECK(refusal(visit, test::feel(before, false, chart::Feel::comfortable)).empty());
    CHECK(refusal(visit, {test::morning, {}, {}, Decided{Action::adjust, "a little"}}).empty());
    CHECK(refusal(visit, test::signature()).empty());
    CHECK(refusal(visit, test::correcting(2, test::holds(before, "hold 16"))).empty());
    CHECK(refusal(visit, test::correcting(2, withdrawal)).empty());
}

TEST_CASE("a chart is not written over: the refusal names the entry and both ways on") {
    const std::string why = refusal(visit_with({test::holds(after, "hold 16")}), test::holds(after, "hold 17"));
    CHECK(why ==
          "The holds of look 'after' are charted already, in entry 3. To correct them: retap visit correct 7 3. For a "
          "new look, name it 'after2'.");
    CHECK(contains(refusal(visit_with(), test::holds(before, "hold 17")), "in entry 2."));
}

TEST_CASE("looks follow one another") {
    CHECK(contains(refusal(visit_with(), test::holds(after2, "hold 16")), "has no look 'after' yet"));
    CHECK(refusal(visit_with({test::holds(after, "hold 16")}), test::holds(after2, "hold 16")).empty());
}

TEST_CASE("a closed visit takes nothing any more") {
    const Visit closed = visit_with({test::signature()});
    for (const NewEntry& entry :
         {test::marks(before, "16 CF"), test::correcting(2, test::holds(before, "hold 16")), test::signature()}) {
        CHECK(contains(refusal(closed, entry), "was signed by B. Teacher and is closed"));
    }
}

TEST_CASE("a correction must point at an entry of its kind and look that still stands") {
    const Visit visit = visit_with({test::correcting(2, test::holds(before, "hold 16"))});
    CHECK(contains(refusal(visit, test::correcting(9, test::holds(before, "hold 16"))),
                   "Entry 9 of visit 7 does not exist"));
    CHECK(contains(refusal(visit, test::correcting(0, test::holds(before, "hold 16"))), "does not exist"));
    CHECK(contains(refusal(visit, test::correcting(2, test::holds(before, "hold 16"))), "was corrected already"));
    CHECK(contains(refusal(visit, test::correcting(3, test::marks(before, "16 CF"))),
                   "is of the kind 'holds', not 'marks'"));
    CHECK(contains(refusal(visit, test::correcting(3, test::holds(after, "hold 16"))), "belongs to another look"));
    CHECK(contains(refusal(visit, test::correcting(3, test::holds(before, "hold 16"), "")), "needs a reason"));
    NewEntry opening_withdrawn = withdrawal;
    opening_withdrawn.look.reset();
    CHECK(contains(refusal(visit, test::correcting(1, opening_withdrawn)), "cannot be withdrawn; erase"));
}

TEST_CASE("openings and withdrawals are nothing by themselves") {
    CHECK(contains(refusal(visit_with(), {test::morning, {}, {}, test::filling_on_16()}), "open already"));
    CHECK(contains(refusal(visit_with(), withdrawal), "only be a correction"));
}

TEST_CASE("charts, takes and feel need a look, and every entry needs somebody who writes it") {
    NewEntry entry = test::holds(after, "hold 16");
    entry.look.reset();
    CHECK(contains(refusal(visit_with(), entry), "to which look"));
    CHECK(contains(refusal(visit_with(), test::holds(after, "hold 16", {"2031-05-14T08:30:00Z", ""})), "who writes"));
}

TEST_CASE("texts that would not survive an export are refused") {
    CHECK(contains(refusal(visit_with(), test::feel(after, true, chart::Feel::high, "\xFF")), "not UTF-8"));
    CHECK(contains(refusal(visit_with(), test::feel(after, true, chart::Feel::high, "\x01")), "control characters"));
}

TEST_CASE("a visit opens with a label and a tooth") {
    Opened opened = test::filling_on_16();
    CHECK_NOTHROW(check_opening({test::morning, {}, {}, opened}));
    opened.label.clear();
    CHECK_THROWS_AS(check_opening({test::morning, {}, {}, opened}), InputError);
    opened = test::filling_on_16();
    opened.treated.clear();
    CHECK_THROWS_AS(check_opening({test::morning, {}, {}, opened}), InputError);
}

TEST_CASE("a blank label or name is refused, when a visit is opened and when it is corrected") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    Opened opened = test::filling_on_16();
    opened.label = " \xC2\xA0 ";
    CHECK_THROWS_WITH_AS(store.open_visit(test::morning, opened), doctest::Contains("The label is blank."), InputError);
    CHECK(store.list({}).empty());
    const VisitId id = store.open_visit(test::morning, test::filling_on_16());
    CHECK_THROWS_AS(store.add(id, {test::morning, {}, Correction{1, "no label"}, opened}), InputError);
    CHECK_THROWS_AS(store.add(id, test::holds(test::before, "hold 16", {test::morning.at, "  "})), InputError);
    CHECK_THROWS_AS(store.open_visit({test::morning.at, "\t"}, test::filling_on_16()), InputError);
    CHECK(store.load(id).entries.size() == 1);
}
