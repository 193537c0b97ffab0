#include "invented_visit.hpp"
#include "visit/chain.hpp"
#include "visit/visit.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;
using test::after;
using test::after2;
using test::before;

namespace {

Visit visit_of(const std::vector<NewEntry>& entries) {
    std::vector<Entry> written{{{test::morning, {}, {}, test::filling_on_16()}, 1, "digest 1"}};
    for (const NewEntry& entry : entries) {
        const int number = static_cast<int>(written.size()) + 1;
        written.push_back({entry, number, "digest " + std::to_string(number)});
    }
    return fold(7, "uid", written);
}

NewEntry take(LookName look) {
    return {test::morning, look, {}, test::take_named("x.wav")};
}

NewEntry compared(LookName look, std::vector<int> before_takes, std::vector<int> now_takes) {
    Compared content;
    content.verdict = compare::Verdict::different;
    content.before_takes = std::move(before_takes);
    content.now_takes = std::move(now_takes);
    return {test::morning, look, {}, content};
}

} // namespace

TEST_CASE("looks come out in the order of the work, whatever the order of the entries") {
    const Visit visit = visit_of({take({LookKind::recheck, 1}), take(after2), take(before), take(after)});
    REQUIRE(visit.looks.size() == 4);
    CHECK(text(visit.looks[0].name) == "before");
    CHECK(text(visit.looks[1].name) == "after");
    CHECK(text(visit.looks[2].name) == "after2");
    CHECK(text(visit.looks[3].name) == "recheck");
    CHECK(visit.latest() == &visit.looks[3]);
    CHECK(visit.digest() == "digest 5");
}

TEST_CASE("with a baseline only there is no look to judge") {
    const Visit visit = visit_of({test::holds(before, "hold 16")});
    CHECK(visit.latest() == nullptr);
    CHECK(visit.baseline() != nullptr);
    CHECK_FALSE(situation_of(visit, visit.latest()).restored);
}

TEST_CASE("a correction stands in for the entry it names, and both stay in the record") {
    const Visit visit =
        visit_of({test::holds(before, "hold 16"), test::correcting(2, test::holds(before, "slide 16"))});
    const auto& holds = visit.baseline()->holds;
    CHECK(holds->entry == 3);
    CHECK(chart::write_holds(holds->content.holds, chart::Numbering::iso) == "slide 16");
    CHECK(visit.superseded == std::vector{2});
    CHECK(visit.entries.size() == 3);
}

TEST_CASE("a correction of a correction counts, and the first entry does not come back") {
    const Visit visit = visit_of({test::holds(before, "hold 16"), test::correcting(2, test::holds(before, "slide 16")),
                                  test::correcting(3, {test::morning, before, {}, Withdrawn{}})});
    CHECK(visit.baseline() == nullptr);
    CHECK(visit.superseded == std::vector{2, 3});
}

TEST_CASE("a corrected opening changes label and teeth but not when the visit began") {
    Opened opened = test::filling_on_16();
    opened.label = "C-1043";
    const Visit visit = visit_of({test::correcting(1, {test::at(5), {}, {}, opened})});
    CHECK(visit.opened.content.label == "C-1043");
    CHECK(visit.opened.stamp.at == test::morning.at);
}

TEST_CASE("a comparison stands only while it compares the takes that stand") {
    const std::vector<NewEntry> entries = {take(before), take(after), compared(after, {2}, {3})};
    CHECK(visit_of(entries).look(after)->comparison.has_value());
    auto with_another = entries;
    with_another.push_back(take(after));
    CHECK_FALSE(visit_of(with_another).look(after)->comparison);
    auto withdrawn = entries;
    withdrawn.push_back(test::correcting(2, {test::morning, before, {}, Withdrawn{}}));
    CHECK_FALSE(visit_of(withdrawn).look(after)->comparison);
}

TEST_CASE("the situation takes charts, sound and feel from the looks that stand") {
    const Visit visit = visit_of({test::holds(before, "hold 16"), take(before), take(after), compared(after, {3}, {4}),
                                  test::feel(after, true, chart::Feel::high)});
    const chart::Situation s = situation_of(visit, visit.latest());
    CHECK(s.restored);
    CHECK(s.before.holds.has_value());
    CHECK_FALSE(s.now.holds);
    CHECK(s.before_has_sound);
    CHECK(s.now_has_sound);
    CHECK(s.sound == compare::Verdict::different);
    CHECK(s.numb == true);
    CHECK(s.feel == chart::Feel::high);
}

TEST_CASE("a comparison of its own goes before one that is handed in") {
    const Visit with = visit_of({take(before), take(after), compared(after, {2}, {3})});
    CHECK(situation_of(with, with.latest(), compare::Verdict::alike).sound == compare::Verdict::different);
    const Visit without = visit_of({take(before), take(after)});
    CHECK(situation_of(without, without.latest(), compare::Verdict::alike).sound == compare::Verdict::alike);
}
