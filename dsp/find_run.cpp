#include "dsp/find_run.hpp"

#include "dsp/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
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

bool level_possible(const RunMember& event, const Run& run, const RunLimits& limits) {
    return std::abs(event.level_db - run.level_db) <= limits.most_level_apart_db;
}

bool as_sudden(const RunMember& event, const Run& run, const RunLimits& limits) {
    return event.log_prominence > run.log_prominence - std::log(limits.chain.as_sudden);
}

// Members that are known so far may be every second or third tap only.
Chain best_on_any_beat(const Members& candidates, const Members& members, const Run& run, const RunLimits& limits) {
    Chain best;
    for (const double times : {1.0, 2.0, 3.0}) {
        const double interval_s = run.interval_s / times;
        if (times > 1.0 && interval_s < limits.shortest_interval_s) {
            break;
        }
        const Run on_beat = on_interval(run, interval_s, limits.oddness, limits.chain);
        Chain chain = best_chain(candidates, members, on_beat, limits.oddness, limits.chain);
        if (chain.support > best.support) {
            best = std::move(chain);
        }
    }
    return best;
}

struct Settled {
    Members members;
    double evidence = 0.0;
};

// From its founders to the run that no longer changes.
Settled settled_run(std::span<const RunMember* const> candidates, Members founders, const RunLimits& limits) {
    constexpr int rounds = 10;
    Settled settled{.members = std::move(founders)};
    for (int round = 0; round < rounds; ++round) {
        const Run run = describe_run(settled.members, limits.oddness);
        Members possible;
        std::ranges::copy_if(candidates, std::back_inserter(possible),
                             [&](const RunMember* c) { return level_possible(*c, run, limits); });
        Chain chain = best_on_any_beat(possible, settled.members, run, limits);
        if (chain.members.size() < limits.least_taps) {
            return {};
        }
        const bool unchanged = chain.members == settled.members;
        settled = {.members = std::move(chain.members), .evidence = chain.evidence};
        if (unchanged) {
            break;
        }
    }
    return settled;
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

} // namespace

std::vector<const RunMember*> find_run(std::span<const RunMember* const> candidates, const RunLimits& limits) {
    Members first = founders(candidates, limits);
    if (first.empty()) {
        return {};
    }
    const Settled settled = settled_run(candidates, std::move(first), limits);
    if (settled.members.empty() || settled.evidence < limits.least_evidence) {
        return {};
    }
    Members members = with_second_kind(candidates, settled.members, limits);
    return stands_out(describe_run(members, limits.oddness), limits) ? members : Members{};
}

} // namespace retap::dsp
