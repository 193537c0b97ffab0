#include "dsp/run/viterbi_chain.hpp"

#include "dsp/run/log_odds.hpp"

#include "run_members.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

using namespace retap::dsp;
using retap::test::event_at;
using retap::test::pointers;

namespace {

std::vector<double> times_of(const Chain& chain) {
    std::vector<double> times;
    std::ranges::transform(chain.members, std::back_inserter(times), [](const RunMember* m) { return m->at_s; });
    return times;
}

/// The chain among `events` for a steady run of six taps of tone 0, 0.4 s apart from 0 s on.
std::vector<double> chained(const std::vector<RunMember>& events) {
    static const std::vector<RunMember> known{event_at(0.0), event_at(0.4), event_at(0.8),
                                              event_at(1.2), event_at(1.6), event_at(2.0)};
    const auto members = pointers(known);
    const std::vector<const RunMember*> all = pointers(events);
    const Run run = describe_run(members, {});
    return times_of(viterbi_chain(all, tap_log_odds(all, members, run, {}), run, {}, {}));
}

std::vector<RunMember> six_taps_and(const RunMember& one) {
    std::vector<RunMember> events{
        event_at(0.0), event_at(0.4), event_at(0.8), event_at(1.2), event_at(1.6), event_at(2.0), one};
    std::ranges::sort(events, {}, &RunMember::at_s);
    return events;
}

const std::vector<double> six{0.0, 0.4, 0.8, 1.2, 1.6, 2.0};

} // namespace

TEST_CASE("the chain is the best of all subsets of the events") {
    // Twin: every subset by itself, with the worth of events and steps written down again.
    std::mt19937 random(11);
    std::uniform_real_distribution<double> uniform;
    const ChainLimits limits;
    const std::vector<RunMember> known{event_at(0.0), event_at(0.4), event_at(0.8), event_at(1.2)};
    const auto members = pointers(known);
    const Run run = describe_run(members, {});
    const double spread_db = 25.0 * std::sqrt(4.0 * 20.0) / 24.0; // of four cells that stand 25 dB above twenty
    const auto for_event = [&](const RunMember& e) {
        const double d = std::log(std::max(0.1, pattern_distance(e.pattern, known.front().pattern)));
        const double tap = std::max(0.0, d - std::log(2.0)) / 0.5;
        const double other = std::min(0.0, d - std::log(1.2 * spread_db)) / 0.3;
        const double level = std::pow((e.level_db + 20.0) / 3.0, 2.0);
        return std::clamp(0.5 * other * other - 0.5 * tap * tap, -3.0, 3.0) - level / (1.0 + level / 2.0);
    };
    const auto for_interval = [&](double seconds) {
        const double times = seconds / 0.4;
        const double whole = std::max(1.0, std::round(times));
        const double off = std::log(times / whole) / 0.12;
        const double step = 1.5 - std::min(8.0, 0.5 * off * off) - 3.0 * (whole - 1.0);
        return times > 4.5 ? -4.0 : (times > 1.5 ? std::max(-4.0, step) : step);
    };
    for (int trial = 0; trial < 200; ++trial) {
        std::vector<RunMember> events;
        double at_s = 0.0;
        for (int i = 0; i < 10; ++i) {
            at_s += 0.05 + (uniform(random) < 0.1 ? 2.0 : 0.5) * uniform(random);
            events.push_back(event_at(at_s, 12.0 * uniform(random), -20.0 + 8.0 * (uniform(random) - 0.5)));
        }
        double best = 0.0;
        for (unsigned subset = 1; subset < 1U << 10U; ++subset) {
            double sum = 0.0;
            const RunMember* before = nullptr;
            for (unsigned i = 0; i < 10; ++i) {
                if ((subset >> i & 1U) != 0) {
                    sum +=
                        for_event(events[i]) + (before != nullptr ? for_interval(events[i].at_s - before->at_s) : 0.0);
                    before = &events[i];
                }
            }
            best = std::max(best, sum);
        }
        CAPTURE(trial);
        const std::vector<const RunMember*> all = pointers(events);
        CHECK(viterbi_chain(all, tap_log_odds(all, members, run, limits), run, {}, limits).support ==
              doctest::Approx(best));
    }
}

TEST_CASE("a sound just like a tap halfway between two taps is none, the same in a gap of the run is one") {
    CHECK(chained(six_taps_and(event_at(1.0))) == six);
    const std::vector<RunMember> gap{event_at(0.0),  event_at(0.4), event_at(0.8),
                                     event_at(1.21), event_at(1.6), event_at(2.0)};
    CHECK(chained(gap) == std::vector<double>{0.0, 0.4, 0.8, 1.21, 1.6, 2.0});
}

TEST_CASE("after a pause the run goes on, on a beat of its own") {
    std::vector<RunMember> events = six_taps_and(event_at(4.93));
    events.push_back(event_at(5.33));
    events.push_back(event_at(5.73));
    CHECK(chained(events) == std::vector<double>{0.0, 0.4, 0.8, 1.2, 1.6, 2.0, 4.93, 5.33, 5.73});
}

TEST_CASE("of two events at one beat the one that sounds like the taps is chained") {
    std::vector<RunMember> events = six_taps_and(event_at(0.83, 6.0));
    CHECK(chained(events) == six);
}

TEST_CASE("intervals of twice and three times the beat scatter about it as single ones do") {
    const std::vector<RunMember> known{event_at(0.0), event_at(0.8), event_at(1.2), event_at(2.4)};
    const Run run = describe_run(pointers(known), {});
    const Run on_beat = on_interval(run, 0.4, {}, {});
    CHECK(run.interval_scatter > 0.5);
    CHECK(on_beat.interval_s == 0.4);
    CHECK(on_beat.interval_scatter == doctest::Approx(Oddness{}.interval));
}

TEST_CASE("nothing is chained where nothing speaks for any event") {
    CHECK(chained({}).empty());
    CHECK(chained({event_at(0.4, 15.0), event_at(1.1, 15.0)}).empty());
}
