#include "dsp/tap_run.hpp"

#include "dsp/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <span>
#include <utility>

namespace retap::dsp {

namespace {

using Members = std::vector<const RunMember*>; // by time

constexpr auto by_time = [](const RunMember* a, const RunMember* b) { return a->at_s < b->at_s; };

// The event with the most prominent company of its like, and that company.
Members founders(std::span<const RunMember* const> candidates, const RunLimits& limits) {
    constexpr double least_weight = 0.05;
    Members best;
    double best_support = 0.0;
    std::size_t begin = 0;
    for (const RunMember* a : candidates) {
        while (candidates[begin]->at_s < a->at_s - limits.together_s) {
            ++begin;
        }
        Members company;
        double support = 0.0;
        for (const RunMember* b : candidates.subspan(begin)) {
            if (b->at_s > a->at_s + limits.together_s) {
                break;
            }
            if (oddness_between(*a, *b, limits.oddness) < limits.alike) {
                company.push_back(b);
                support += std::max(least_weight, b->log_prominence - std::log(limits.least_prominence));
            }
        }
        if (company.size() >= limits.least_taps && support > best_support) {
            best = std::move(company);
            best_support = support;
        }
    }
    return best;
}

bool between_taps(double at_s, const Run& run, const RunLimits& limits) {
    const auto after = std::ranges::upper_bound(run.times_s, at_s);
    const auto before = std::ranges::lower_bound(run.times_s, at_s);
    return after != run.times_s.end() && before != run.times_s.begin() &&
           *after - *std::prev(before) <= limits.widest_gap * run.interval_s;
}

bool level_possible(const RunMember& event, const Run& run, const RunLimits& limits) {
    return std::abs(event.level_db - run.level_db) <= limits.most_level_apart_db;
}

bool as_sudden(const RunMember& event, const Run& run, const RunLimits& limits) {
    return event.log_prominence > run.log_prominence - std::log(limits.as_sudden);
}

bool fits(const RunMember& event, const Run& run, const RunLimits& limits) {
    if (!level_possible(event, run, limits)) {
        return false;
    }
    const Oddities odd = oddities(event, run, limits.oddness);
    double allowed = limits.most_odd;
    if (as_sudden(event, run, limits)) {
        allowed += limits.on_the_beat * std::max(0.0, 1.0 - odd.beat);
        allowed += between_taps(event.at_s, run, limits) ? limits.among_taps : 0.0;
    }
    return odd.sum() < allowed;
}

// From its founders to the run that no longer changes.
Members settled_run(std::span<const RunMember* const> candidates, Members members, const RunLimits& limits) {
    constexpr int rounds = 10;
    for (int round = 0; round < rounds; ++round) {
        const Run run = describe_run(members, limits.oddness);
        Members now;
        std::ranges::copy_if(candidates, std::back_inserter(now),
                             [&](const RunMember* c) { return fits(*c, run, limits); });
        if (now.size() < limits.least_taps || now == members) {
            break;
        }
        members = std::move(now);
    }
    return members;
}

// Some people tap in two ways by turns, now with one side first and now with the other. Events that are alike among
// themselves and as sudden as the run's belong to it if all of them together keep one beat.
Members with_second_kind(std::span<const RunMember* const> candidates, Members members, const RunLimits& limits) {
    constexpr double on_beat = 1.0;
    const Run run = describe_run(members, limits.oddness);
    Members others;
    std::ranges::set_difference(candidates, members, std::back_inserter(others), by_time);
    std::erase_if(others,
                  [&](const RunMember* c) { return !as_sudden(*c, run, limits) || !level_possible(*c, run, limits); });
    Members second = founders(others, limits);
    while (second.size() >= limits.least_taps) {
        Members both;
        std::ranges::merge(members, second, std::back_inserter(both), by_time);
        const Run joined = describe_run(both, limits.oddness);
        const auto off = std::erase_if(
            second, [&](const RunMember* c) { return oddities(*c, joined, limits.oddness).beat > on_beat; });
        if (off == 0) {
            return joined.interval_scatter > limits.oddness.interval ? members : both;
        }
    }
    return members;
}

// The restless background has no beat.
bool stands_out(const Run& run, const RunLimits& limits) {
    const bool steady = run.times_s.size() >= limits.steady_taps && run.interval_scatter <= limits.oddness.interval;
    return run.log_prominence >= std::log(steady ? limits.faintest : limits.least_prominence);
}

void turn_down(FoundEvent& event, const char* reason) {
    if (event.is_tap || event.reason.empty()) {
        event.is_tap = false;
        event.reason = reason;
    }
}

const char* why_not(const RunMember& event, const Run& run, const RunLimits& limits) {
    const Oddities odd = oddities(event, run, limits.oddness);
    if (odd.level > std::max(odd.imprint, odd.abruptness) || !level_possible(event, run, limits)) {
        return "much louder or softer than the taps of the run";
    }
    return odd.beat > std::max(odd.imprint, odd.abruptness)
               ? "it is off the beat of the run, and sounds less like its taps"
               : "it sounds unlike the taps of the run";
}

void turn_down_stragglers(const std::vector<FoundEvent*>& taps, SampleRate rate, const RunLimits& limits) {
    if (taps.size() < limits.least_taps) {
        return;
    }
    std::vector<double> intervals;
    for (std::size_t i = 1; i < taps.size(); ++i) {
        intervals.push_back((taps[i]->onset - taps[i - 1]->onset).seconds(rate));
    }
    const double pause = std::max(limits.longest_pause_s, limits.pause_factor * median(intervals));
    std::size_t begin = 0;
    for (std::size_t i = 1; i <= taps.size(); ++i) {
        if (i < taps.size() && intervals[i - 1] <= pause) {
            continue;
        }
        if (i - begin < limits.least_taps && i - begin < taps.size()) {
            for (std::size_t k = begin; k < i; ++k) {
                turn_down(*taps[k], "it stands apart from the run of taps");
            }
        }
        begin = i;
    }
}

} // namespace

void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits) {
    std::vector<FoundEvent*> candidates;
    std::vector<RunMember> looks;
    for (FoundEvent& event : events) {
        if (event.could_be_tap) {
            candidates.push_back(&event);
            looks.push_back(run_member(event.shape, event.onset.seconds(rate)));
        }
    }
    Members all;
    std::ranges::transform(looks, std::back_inserter(all), [](const RunMember& look) { return &look; });
    Members members = founders(all, limits);
    if (members.empty()) {
        return;
    }
    members = with_second_kind(all, settled_run(all, std::move(members), limits), limits);
    const Run run = describe_run(members, limits.oddness);
    if (!stands_out(run, limits)) {
        return;
    }
    std::vector<FoundEvent*> taps;
    auto member = members.begin(); // both by time
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (member == members.end() || *member != all[i]) {
            turn_down(*candidates[i], why_not(looks[i], run, limits));
            continue;
        }
        ++member;
        candidates[i]->is_tap = true;
        candidates[i]->reason.clear();
        taps.push_back(candidates[i]);
    }
    turn_down_stragglers(taps, rate, limits);
}

} // namespace retap::dsp
