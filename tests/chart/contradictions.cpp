#include "chart/contradictions.hpp"
#include "charts.hpp"

#include <doctest/doctest.h>

using namespace retap::chart;
using retap::compare::Verdict;
using test::comfortable;

namespace {

std::vector<std::string> found(const Situation& s) {
    std::vector<std::string> names;
    for (const Contradiction& one : contradictions(Assessment(s), Numbering::iso)) {
        names.emplace_back(one.id);
        CHECK(one.sentence.back() == '.');
        CHECK(one.first.find("Look again first: ") == 0);
        CHECK(one.step != Step::none);
    }
    return names;
}

using Names = std::vector<std::string>;

const Situation as_before = comfortable("26", "26 MP", "26 MP*");

Situation sounding(Situation s, SoundSays sound) {
    s.sound = sound;
    return s;
}

Situation with_film(Situation s, const char* holds) {
    s.now.holds = read_holds(holds, Numbering::iso);
    return s;
}

} // namespace

TEST_CASE("checks that agree contradict nothing") {
    CHECK(found(as_before).empty());
    CHECK(found(sounding(as_before, Verdict::unclear)).empty());
}

TEST_CASE("high by film or paper with an alike sound, and any other change with one") {
    CHECK(found(with_film(as_before, "hold 17..14 24..26; open 13..23 27")) == Names{"high-but-alike"});
    CHECK(found(comfortable("26", "26 MP 36 MB", "26 MP*")) == Names{"changed-but-alike"});
}

TEST_CASE("high by film with a first contact that leads is no contradiction but support") {
    const Situation s = sounding(with_film(as_before, "hold 17..14 24..26; open 13..23 27"),
                                 SoundSays(Verdict::different, 20.0, FirstContact::earlier));
    CHECK(found(s).empty());
    CHECK(test::evidence("restoration-high", s).back() == "In the sound the first contact leads earlier as well.");
}

TEST_CASE("film and marks as before with a different sound, or one that leads though it is not different") {
    CHECK(found(sounding(as_before, Verdict::different)) == Names{"as-before-but-different"});
    CHECK(found(sounding(as_before, SoundSays(Verdict::unclear, {}, FirstContact::earlier))) ==
          Names{"as-before-but-leads"});
}

TEST_CASE("film that holds at a tooth that paper left without a mark") {
    const Situation s = sounding(comfortable("26", "26 MP", "16 MP"), Verdict::different);
    CHECK(found(s) == Names{"hold-without-mark"});
}

TEST_CASE("a heavy mark on the restoration where film does not hold") {
    const Situation s = sounding(with_film(comfortable("26", "26 MP 16 MP", "26 MP+* 16 MP"), "hold 17..14 24 25 27; "
                                                                                              "open 13..23 26"),
                                 Verdict::different);
    CHECK(found(s) == Names{"mark-without-hold"});
}

TEST_CASE("film lost at the treated tooth and elsewhere: high and light at once") {
    const Situation s = sounding(with_film(as_before, "hold 17..14 24 25; open 13..23 26 27"), Verdict::different);
    CHECK(found(s) == Names{"lost-here-and-there"});
}

TEST_CASE("before the work nothing can contradict anything") {
    Situation s = as_before;
    s.restored = false;
    CHECK(found(s).empty());
}
