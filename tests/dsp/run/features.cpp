#include "dsp/run/features.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

using namespace retap::dsp;

namespace {

RunMember member_at(double at_s, double level_db = -20.0) {
    RunMember member{.at_s = at_s, .level_db = level_db, .abruptness_db = 40.0, .log_prominence = 4.0, .pattern = {}};
    member.pattern.heard[0] = member.pattern.heard[1] = true;
    return member;
}

Run steady_run() {
    static const std::vector<RunMember> members{member_at(1.0), member_at(1.4), member_at(1.8), member_at(2.2)};
    std::vector<const RunMember*> pointers;
    pointers.reserve(members.size());
    for (const RunMember& m : members) {
        pointers.push_back(&m);
    }
    return describe_run(pointers, {});
}

} // namespace

TEST_CASE("a run is described by its medians, and scatters no less than people do") {
    const Run run = steady_run();
    const Oddness usual;
    CHECK(run.interval_s == doctest::Approx(0.4));
    CHECK(run.level_db == -20.0);
    CHECK(run.level_scatter_db == usual.level_db);
    CHECK(run.pattern_scatter_db == usual.pattern_db);
    CHECK(run.interval_scatter == usual.interval);
}

TEST_CASE("deviations count by their square at first and no more than so much at last") {
    const Run run = steady_run();
    const auto level_oddity = [&](double level_db) { return oddities(member_at(2.6, level_db), run, {}).level; };
    CHECK(level_oddity(-20.0) == 0.0);
    CHECK(level_oddity(-23.0) == doctest::Approx(1.0 / (1.0 + 1.0 / 6.0)));
    CHECK(level_oddity(-17.0) == doctest::Approx(level_oddity(-23.0)));
    CHECK(level_oddity(60.0) < 6.0);
    CHECK(level_oddity(60.0) > 5.9);
}

TEST_CASE("on the beat is one interval from the nearest other tap, before the run, in it and after it") {
    const Run run = steady_run();
    for (const double at_s : {0.6, 1.0, 1.4, 2.2, 2.6}) {
        CAPTURE(at_s);
        CHECK(oddities(member_at(at_s), run, {}).beat == doctest::Approx(0.0));
    }
    const double half = std::log(0.5) / 0.12; // half an interval away
    CHECK(oddities(member_at(1.6), run, {}).beat == doctest::Approx(half * half / (1.0 + half * half / 4.0)));
    CHECK(oddities(member_at(9.0), run, {}).beat > 3.9);
}

TEST_CASE("two events are as odd to each other whichever is asked first") {
    RunMember a = member_at(1.0);
    const RunMember b = member_at(1.4, -24.0);
    a.pattern.level_db[1] = 5.0;
    CHECK(oddness_between(a, b, {}) == oddness_between(b, a, {}));
    CHECK(oddness_between(a, a, {}) == 0.0);
}
