#include "dsp/run/evidence.hpp"

#include "dsp/run/pattern_log_odds.hpp"
#include "dsp/run/viterbi_chain.hpp"

#include "run_members.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <limits>
#include <numbers>
#include <vector>

using namespace retap::dsp;
using retap::test::event_at;
using retap::test::pointers;

namespace {

constexpr double whatever = -1e6; // a limit that everything passes

/// As many taps as there are times, each a little unlike the one before.
std::vector<RunMember> taps_at(const std::vector<double>& times_s) {
    std::vector<RunMember> taps;
    std::ranges::transform(times_s, std::back_inserter(taps),
                           [&](double at_s) { return event_at(at_s, taps.size() % 2 == 0 ? 0.5 : -0.5); });
    return taps;
}

std::vector<RunMember> with(std::vector<RunMember> events, const std::vector<RunMember>& more) {
    events.insert(events.end(), more.begin(), more.end());
    std::ranges::sort(events, {}, &RunMember::at_s);
    return events;
}

/// By Pascal's triangle.
double ways_of_choosing(std::size_t chosen, std::size_t of) {
    std::vector<double> row{1.0};
    for (std::size_t n = 0; n < of; ++n) {
        std::vector<double> next(row.size() + 1, 1.0);
        for (std::size_t k = 1; k < row.size(); ++k) {
            next[k] = row[k - 1] + row[k];
        }
        row = next;
    }
    return row.at(chosen);
}

double log_normal(double x, double scatter) {
    return -0.5 * x * x / (scatter * scatter) - std::log(scatter * std::sqrt(2.0 * std::numbers::pi));
}

/// `events` of which those alike with `taps` are the members of the run.
bool taps_are_run(const std::vector<RunMember>& taps, const std::vector<RunMember>& events, const RunLimits& limits) {
    std::vector<const RunMember*> all = pointers(events);
    std::vector<const RunMember*> members;
    std::ranges::copy_if(all, std::back_inserter(members), [&](const RunMember* e) {
        return std::ranges::any_of(taps, [&](const RunMember& tap) { return tap.at_s == e->at_s; });
    });
    return is_run(members, describe_run(members, limits.oddness), all, limits);
}

/// Limits of which only what a chain by chance has to show counts.
RunLimits only_by_chance(double min_evidence) {
    RunLimits limits;
    limits.min_evidence = min_evidence;
    limits.min_for_each = limits.min_for_steady = whatever;
    return limits;
}

const std::vector<double> four_s{0.0, 0.5, 0.9, 1.42};
const std::vector<double> six_s{0.0, 0.4, 0.8, 1.21, 1.6, 2.0};

} // namespace

TEST_CASE("a level is possible within the limit of the run's, whichever way") {
    Run run;
    run.level_db = -20.0;
    RunMember event = event_at(0.0);
    for (const double apart_db : {-18.0, 0.0, 18.0}) {
        event.level_db = run.level_db + apart_db;
        CHECK(level_possible(event, run, 18.0));
        CHECK(level_possible(event, run, 17.9) == (apart_db == 0.0));
    }
}

TEST_CASE("a run has to show as much more as there are ways to choose so many from the sounds around it") {
    // Twin: the binomial coefficient by Pascal's triangle, and how often as many sounds lie elsewhere.
    const std::vector<RunMember> taps = taps_at(four_s);
    const std::vector<const RunMember*> members = pointers(taps);
    const RunLimits usual;
    const Run run = describe_run(members, usual.oddness);
    const double evidence = evidence_for(members, run, usual.oddness, usual.chain);
    for (const std::size_t around : {0U, 3U, 9U}) {
        for (const std::size_t elsewhere : {0U, 5U, 40U}) {
            std::vector<RunMember> others;
            for (std::size_t i = 0; i < around; ++i) { // from 1.5 intervals before the first to as many after the last
                others.push_back(event_at(-0.7 + 0.31 * static_cast<double>(i), 15.0));
            }
            for (std::size_t i = 0; i < elsewhere; ++i) {
                others.push_back(event_at(2.3 + 0.3 * static_cast<double>(i), 15.0));
                others.push_back(event_at(1.5 + 0.01 * static_cast<double>(i), 15.0));
                others.back().log_prominence = 1.0; // not as sudden: not to be chosen from
            }
            const auto there = static_cast<double>(4 + around);
            const double needed =
                std::log(ways_of_choosing(4, 4 + around)) + std::log((there + static_cast<double>(elsewhere)) / there);
            CAPTURE(around);
            CAPTURE(elsewhere);
            const std::vector<RunMember> events = with(taps, others);
            CHECK(taps_are_run(taps, events, only_by_chance(evidence - needed - 1e-6)));
            CHECK_FALSE(taps_are_run(taps, events, only_by_chance(evidence - needed + 1e-6)));
        }
    }
}

TEST_CASE("a beat steadier than usual speaks for a run of five or more: the ratio of two normal likelihoods") {
    for (const std::vector<double>& at_s : {six_s, std::vector<double>{0.0, 0.4, 0.8, 1.2, 1.6, 2.4}}) {
        const std::vector<RunMember> taps = taps_at(at_s);
        const std::vector<const RunMember*> members = pointers(taps);
        const RunLimits usual;
        const Run run = describe_run(members, usual.oddness);
        std::vector<double> off; // of each interval from one beat, or from two where one was left out
        double squares = 0.0;
        for (std::size_t i = 1; i < at_s.size(); ++i) {
            const double intervals = (at_s[i] - at_s[i - 1]) / run.interval_s;
            off.push_back(std::log(intervals / std::round(intervals)));
            squares += off.back() * off.back();
        }
        const double own = std::max(0.03, std::sqrt(squares / static_cast<double>(off.size())));
        double steadiness = -1.0; // what fitting the scatter gains by itself
        for (const double x : off) {
            steadiness += log_normal(x, own) - log_normal(x, 0.12);
        }
        CHECK(steadiness > 3.0);
        const double evidence = evidence_for(members, run, usual.oddness, usual.chain) + steadiness;
        CHECK(taps_are_run(taps, taps, only_by_chance(evidence - 1e-6)));
        CHECK_FALSE(taps_are_run(taps, taps, only_by_chance(evidence + 1e-6)));
        RunLimits of_seven = only_by_chance(evidence - 1e-6);
        of_seven.steady_taps = 7; // six are too few then
        CHECK_FALSE(taps_are_run(taps, taps, of_seven));
    }
}

TEST_CASE("a run has to show so much for each member, and less of it on a steady beat") {
    const auto evidence_each = [](const std::vector<RunMember>& taps) {
        const std::vector<const RunMember*> members = pointers(taps);
        const RunLimits usual;
        const Run run = describe_run(members, usual.oddness);
        return evidence_for(members, run, usual.oddness, usual.chain) / static_cast<double>(members.size());
    };
    const std::vector<RunMember> four = taps_at(four_s); // too few for a steady beat
    RunLimits limits;
    limits.min_evidence = whatever;
    limits.min_for_steady = 1e6;
    limits.min_for_each = evidence_each(four) - 1e-6;
    CHECK(taps_are_run(four, four, limits));
    limits.min_for_each = evidence_each(four) + 1e-6;
    CHECK_FALSE(taps_are_run(four, four, limits));
    const std::vector<RunMember> six = taps_at(six_s);
    limits.min_for_each = 1e6;
    limits.min_for_steady = evidence_each(six); // and its steadiness speaks for it beside
    CHECK(taps_are_run(six, six, limits));
    limits.min_for_steady = 1e3;
    CHECK_FALSE(taps_are_run(six, six, limits));
}

TEST_CASE("fewer than three are no run, whatever speaks for them") {
    RunLimits limits = only_by_chance(whatever);
    const std::vector<RunMember> two = taps_at({0.0, 0.4});
    CHECK_FALSE(taps_are_run(two, two, limits));
    CHECK_FALSE(is_run({}, {}, {}, limits));
    limits.min_taps = 2;
    CHECK(taps_are_run(two, two, limits));
}

TEST_CASE("what stands apart belongs when its likeness and its own steps outweigh the other sounds") {
    // Twin: sums of pattern_log_odds() and for_step(), against the logarithm of the odds of a sound being none of the
    // taps.
    const std::vector<RunMember> taps = taps_at(six_s);
    const std::vector<const RunMember*> members = pointers(taps);
    RunLimits limits;
    const Run run = describe_run(members, limits.oddness);
    const std::vector<RunMember> apart{event_at(6.0, 1.5), event_at(6.43, -1.0), event_at(6.8, 0.5)};
    for (const std::size_t length : {1U, 2U, 3U}) {
        for (const std::size_t others : {0U, 1U, 6U, 50U}) {
            double evidence = 0.0;
            for (std::size_t i = 0; i < length; ++i) {
                evidence += pattern_log_odds(members, apart[i], run, {});
            }
            evidence += length > 1 ? for_step(0.43, run, 0.12, {}) : 0.0;
            evidence += length > 2 ? for_step(0.37, run, 0.12, {}) : 0.0;
            const double log_odds = std::log(std::max(1.0, static_cast<double>(others)) / 6.0);
            const std::vector<const RunMember*> all = pointers(apart);
            const std::span<const RunMember* const> stretch = std::span(all).first(length);
            CAPTURE(length);
            CAPTURE(others);
            limits.min_likeness = evidence - log_odds - 1e-6;
            CHECK(unmistakable(stretch, members, run, others, limits));
            limits.min_likeness = evidence - log_odds + 1e-6;
            CHECK_FALSE(unmistakable(stretch, members, run, others, limits));
        }
    }
}

TEST_CASE("one that is unlike, not convincing, not as sudden or too loud vouches for nobody") {
    const std::vector<RunMember> taps = taps_at(six_s);
    const std::vector<const RunMember*> members = pointers(taps);
    RunLimits limits;
    limits.min_likeness = whatever;
    const Run run = describe_run(members, limits.oddness);
    const auto stands = [&](const RunMember& last) {
        const std::vector<RunMember> stretch{event_at(6.0), event_at(6.4), last};
        return unmistakable(pointers(stretch), members, run, 0, limits);
    };
    CHECK(stands(event_at(6.8)));
    RunMember unconvincing = event_at(6.8);
    unconvincing.convincing = false;
    CHECK_FALSE(stands(unconvincing));
    RunMember faint = event_at(6.8);
    faint.log_prominence = std::log(0.09) + run.log_prominence;
    CHECK_FALSE(stands(faint));
    RunMember loud = event_at(6.8);
    loud.level_db += limits.max_level_apart_db + 0.1;
    CHECK_FALSE(stands(loud));
    CHECK_FALSE(stands(event_at(6.8, 15.0))); // likelier a stranger
}
