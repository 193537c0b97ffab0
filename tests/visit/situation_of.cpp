// What the rules are told of a visit: the day's numbness, what was decided, what only a person can say.
#include "chart/next_rules.hpp"
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
using test::feel;

namespace {

const LookName recheck_look{LookKind::recheck, 1};

Visit folded(std::vector<NewEntry> entries) {
    std::vector<Entry> written;
    entries.insert(entries.begin(), NewEntry{test::morning, {}, {}, test::filling_on_16()});
    for (NewEntry& entry : entries) {
        written.push_back({std::move(entry), static_cast<int>(written.size()) + 1, ""});
    }
    return fold(1, "uid", std::move(written));
}

NewEntry said(Body body) {
    return {test::morning, {}, {}, std::move(body)};
}

NewEntry decided(std::optional<LookName> look, Action action) {
    return {test::morning, look, {}, Decided{action, ""}};
}

chart::Situation latest(const std::vector<NewEntry>& entries) {
    const Visit visit = folded(entries);
    return situation_of(visit, visit.latest());
}

const NewEntry look_after = test::holds(after, "hold 16");
const NewEntry second_look = test::holds(after2, "hold 16");
const NewEntry another_day = test::holds(recheck_look, "hold 16");

} // namespace

TEST_CASE("numbness noted at one look stands at the next of the same day, and not on another day") {
    const NewEntry numb = feel(after, true, chart::Feel::high);
    CHECK(latest({numb, second_look}).numb == true);
    CHECK(latest({feel(before, true, chart::Feel::not_asked), look_after}).numb == true);
    CHECK_FALSE(latest({numb, another_day}).numb);
    CHECK(latest({numb, feel(after2, false, chart::Feel::comfortable)}).numb == false);
    // feeling noted before the work says nothing of the hours after an injection
    CHECK_FALSE(latest({feel(before, false, chart::Feel::not_asked), look_after}).numb);
    CHECK_FALSE(latest({feel(after, false, chart::Feel::comfortable), second_look}).numb);
}

TEST_CASE("a decision counts at the look that it was taken at, named or not, and not at a later one") {
    CHECK(latest({look_after, decided(after, Action::wait)}).decided == chart::Action::wait);
    CHECK(latest({look_after, decided({}, Action::adjust)}).decided == chart::Action::adjust);
    CHECK_FALSE(latest({look_after, decided(after, Action::wait), second_look}).decided);
    CHECK_FALSE(latest({look_after, decided({}, Action::wait), another_day}).decided);
    CHECK(latest({look_after, decided(after, Action::wait), decided(after, Action::leave)}).decided ==
          chart::Action::leave);
}

TEST_CASE("crossbite and warning signs belong to the visit: the latest counts, and a sign said again replaces itself") {
    const auto teeth = [](const char* text) {
        return said(CrossbiteSaid{chart::read_crossbite(text, chart::Numbering::iso)});
    };
    CHECK_FALSE(latest({look_after}).crossbite.said());
    CHECK(latest({teeth("right"), look_after, teeth("none")}).crossbite.teeth->empty());
    const auto warned = latest({said(WarningNoted{{"loose", "", ""}}), said(WarningNoted{{"wear", "", ""}}),
                                said(WarningNoted{{"loose", "Dr Example", "leave"}}), look_after});
    REQUIRE(warned.warnings.size() == 2);
    CHECK(warned.warnings.at(1).about == "loose");
    CHECK(warned.warnings.at(1).settled());
}

TEST_CASE("what was withdrawn is not told") {
    NewEntry withdrawal = said(Withdrawn{});
    withdrawal.correction = Correction{2, "wrong patient"};
    CHECK(latest({said(WarningNoted{{"loose", "", ""}}), withdrawal, look_after}).warnings.empty());
}

TEST_CASE("movements marked at an earlier look are not looked at for the first time") {
    const NewEntry moved = test::marks(after, "centric 16 CF*; working 17 MB");
    CHECK_FALSE(latest({moved}).eccentric_before_this_look);
    CHECK(latest({moved, test::marks(after2, "centric 16 CF*; working 17 MB")}).eccentric_before_this_look);
    CHECK_FALSE(latest({test::marks(after, "centric 16 CF*"), second_look}).eccentric_before_this_look);
}

TEST_CASE("how the first contact stood is kept with a comparison, and older records without it say nothing of it") {
    Compared compared;
    compared.verdict = compare::Verdict::different;
    compared.first_contact = chart::FirstContact::earlier;
    const auto kept = std::get<Compared>(body_from("comparison", fields_of(compared)));
    CHECK(kept.first_contact == chart::FirstContact::earlier);
    compared.first_contact = chart::FirstContact::not_told;
    CHECK(fields_of(compared).text().find("first_contact") == std::string::npos);
}

TEST_CASE("the day after inherits who crosses whom and the warning signs, and begins with a recheck") {
    const test::TempFolder folder;
    SqliteStore store(folder / "visits.db");
    const VisitId first = store.open_visit(test::morning, test::filling_on_16());
    store.add(first, test::holds(before, "hold 16 17 26"));
    store.add(first, said(CrossbiteSaid{chart::read_crossbite("right", chart::Numbering::iso)}));
    store.add(first, said(WarningNoted{{"loose", "Dr Example", "leave"}}));
    store.add(first, look_after);
    store.add(first, decided(after, Action::wait));
    const VisitId second = store.open_following(first, {"2031-05-15T08:00:00Z", "C. Other"}, test::filling_on_16());
    const Visit visit = store.load(second);
    const chart::Situation s = situation_of(visit, visit.latest());
    CHECK(s.restored);
    CHECK(s.crossbite.teeth->size() == 10);
    CHECK(s.warnings.size() == 1);
    CHECK_FALSE(s.decided); // the day that was waited for has come
    CHECK(store.verify(second).empty());
}
