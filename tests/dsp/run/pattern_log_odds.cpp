#include "dsp/run/pattern_log_odds.hpp"

#include "run_members.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <vector>

using namespace retap::dsp;
using retap::test::event_at;
using retap::test::pointers;

namespace {

const std::vector<RunMember> pattern_taps{event_at(0.0, 0.5),  event_at(0.4, -0.5), event_at(0.8, 1.0),
                                          event_at(1.2, -1.0), event_at(1.6, 0.5),  event_at(2.0, -0.5)};

/// Mean distance to the three nearest of the pattern_taps, itself left out.
double nearest_three(const RunMember& event) {
    std::vector<double> distances;
    for (const RunMember& tap : pattern_taps) {
        if (tap.at_s != event.at_s) {
            distances.push_back(pattern_distance(event.pattern, tap.pattern));
        }
    }
    std::ranges::sort(distances);
    return (distances[0] + distances[1] + distances[2]) / 3.0;
}

double against(double distance_db, double usual_db, double strange_db) {
    const double d = std::log(std::max(0.1, distance_db));
    const double as_tap = std::max(0.0, d - std::log(usual_db)) / 0.5;
    const double as_stranger = std::min(0.0, d - std::log(strange_db)) / 0.3;
    return 0.5 * as_stranger * as_stranger - 0.5 * as_tap * as_tap;
}

} // namespace

TEST_CASE("likeness is the plain ratio of two normal likelihoods of the distance to the three nearest") {
    const std::vector<const RunMember*> members = pointers(pattern_taps);
    const Run run = describe_run(members, {});
    const double spread_db = pattern_spread(run.pattern);
    // The three nearest of six strangers, by Blom's quantiles through a logistic: on average 0.3 times this below.
    double below = 0.0;
    for (const double rank : {1.0, 2.0, 3.0}) {
        const double p = (rank - 0.375) / 6.25;
        below += std::log(p / (1.0 - p)) / 1.702 / 3.0;
    }
    const double strange_db = 1.2 * spread_db * std::exp(0.3 * below);
    for (const double tone_db : {0.0, 2.0, 4.0, 6.0, 9.0, 14.0}) {
        CAPTURE(tone_db);
        const RunMember event = event_at(2.4, tone_db);
        const double plain = against(nearest_three(event), 0.35 * spread_db, strange_db);
        CHECK(pattern_log_odds(members, event, run, {}) == doctest::Approx(plain));
        CHECK(limited_pattern_log_odds(members, event, run, {}) == doctest::Approx(std::clamp(plain, -3.0, 3.0)));
    }
}

TEST_CASE("a member is not held against itself") {
    const std::vector<RunMember> three{event_at(0.0), event_at(0.4, 12.0), event_at(0.8, -12.0)};
    const std::vector<const RunMember*> members = pointers(three);
    const Run run = describe_run(members, {});
    const RunMember copy = event_at(0.0);
    CHECK(pattern_log_odds(members, three[0], run, {}) < 0.0);
    CHECK(pattern_log_odds(members, copy, run, {}) > pattern_log_odds(members, three[0], run, {}) + 3.0);
}

TEST_CASE("within a run each is held against what its members usually have, and never counts more than 3") {
    const std::vector<const RunMember*> members = pointers(pattern_taps);
    const Run run = describe_run(members, {});
    const double strange_db = 1.2 * pattern_spread(run.pattern);
    const std::vector<RunMember> events{event_at(2.4, 1.0), event_at(2.8, 4.0), event_at(3.2, 7.0),
                                        event_at(3.6, 19.0)};
    const std::vector<double> found = pattern_log_odds_of_each(pointers(events), members, run, {});
    REQUIRE(found.size() == events.size());
    for (std::size_t i = 0; i < events.size(); ++i) {
        CAPTURE(i); // the members lie less than 2 dB from each other, which is taken for the least
        const double plain = against(nearest_three(events[i]), 2.0, strange_db);
        CHECK(found[i] == doctest::Approx(std::clamp(plain, -3.0, 3.0)));
    }
    CHECK(pattern_log_odds_of_each({}, members, run, {}).empty());
}

TEST_CASE("only the eight members before and after an event in time are looked at") {
    std::vector<RunMember> many;
    many.reserve(30);
    for (int i = 0; i < 30; ++i) { // unlike it, but the far ones are just like it
        many.push_back(event_at(0.4 * i, i < 3 ? 0.0 : 15.0));
    }
    const std::vector<const RunMember*> members = pointers(many);
    const Run run = describe_run(members, {});
    CHECK(pattern_log_odds(members, event_at(0.4 * 7.5), run, {}) > 0.0); // the first three are among the eight before
    CHECK(pattern_log_odds(members, event_at(0.4 * 25.5), run, {}) < -1.0); // and here not
}
