#include "dsp/run/find_run.hpp"

#include "dsp/run/evidence.hpp"
#include "dsp/run/log_odds.hpp"
#include "dsp/run/viterbi_chain.hpp"

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
    constexpr double min_weight = 0.05;
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
                support += std::max(min_weight, b->log_prominence - std::log(limits.min_prominence));
            }
        }
        if (company.size() >= limits.min_taps && support > best_support) {
            best = std::move(company);
            best_support = support;
        }
    }
    return best;
}

struct OnBeat {
    Chain chain;
    Run run; // with the beat it was found by
};

// Members that are known so far may be every second or third tap only; and some people keep no beat, but then each tap
// has to convince by itself.
OnBeat best_on_any_beat(const Members& candidates, const Members& members, const Run& run, const RunLimits& limits) {
    const std::vector<double> worth = tap_log_odds(candidates, members, run, limits.chain);
    Members convincing;
    std::vector<double> their_worth;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (candidates[i]->convincing) {
            convincing.push_back(candidates[i]);
            their_worth.push_back(worth[i]);
        }
    }
    OnBeat best{.chain = viterbi_chain(convincing, their_worth, run, limits.oddness, limits.chain), .run = run};
    for (const double times : {1.0, 2.0, 3.0}) {
        const double interval_s = run.interval_s / times;
        if (times > 1.0 && interval_s < limits.shortest_interval_s) {
            break;
        }
        Run on_beat = on_interval(run, interval_s, limits.oddness, limits.chain);
        Chain chain = viterbi_chain(candidates, worth, on_beat, limits.oddness, limits.chain);
        if (chain.support > best.chain.support) {
            best = {.chain = std::move(chain), .run = std::move(on_beat)};
        }
    }
    return best;
}

/// A run that no longer changes, and the beat it was found by.
struct Settled {
    Members members{};
    Run run{};
};

// From its founders to the run that no longer changes.
Settled settled_run(std::span<const RunMember* const> candidates, Members founders, const RunLimits& limits) {
    constexpr int rounds = 10;
    Settled settled{.members = std::move(founders), .run = {}};
    for (int round = 0; round < rounds; ++round) {
        const Run run = describe_run(settled.members, limits.oddness);
        Members possible;
        std::ranges::copy_if(candidates, std::back_inserter(possible),
                             [&](const RunMember* c) { return level_possible(*c, run, limits.widest_level_apart_db); });
        OnBeat best = best_on_any_beat(possible, settled.members, run, limits);
        if (best.chain.members.size() < limits.min_taps) {
            return {};
        }
        const bool unchanged = best.chain.members == settled.members;
        settled = {.members = std::move(best.chain.members), .run = std::move(best.run)};
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
    std::erase_if(others, [&](const RunMember* c) {
        return !as_sudden(*c, run, limits.chain) || !level_possible(*c, run, limits.max_level_apart_db);
    });
    Members second = founders(others, limits);
    while (second.size() >= limits.min_taps) {
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
    return run.log_prominence >= std::log(steady ? limits.faintest : limits.min_prominence);
}

// Taps that came late or early.
Members with_those_off_beat(std::span<const RunMember* const> candidates, Members members, const RunLimits& limits) {
    const Run run = describe_run(members, limits.oddness);
    double closest_s = run.interval_s;
    for (std::size_t i = 1; i < members.size(); ++i) {
        closest_s = std::min(closest_s, members[i]->at_s - members[i - 1]->at_s);
    }
    const double nearest_s = std::max(limits.shortest_interval_s, std::min(limits.nearest_off_beat * run.interval_s,
                                                                           limits.nearest_to_closest * closest_s));
    Members others;
    std::ranges::set_difference(candidates, members, std::back_inserter(others), by_time);
    const auto rivals = static_cast<std::size_t>(
        std::ranges::count_if(others, [&](const RunMember* c) { return as_sudden(*c, run, limits.chain); }));
    for (const RunMember* other : others) {
        const auto after = std::ranges::lower_bound(members, other, by_time);
        const bool apart = (after == members.end() || (*after)->at_s - other->at_s >= nearest_s) &&
                           (after == members.begin() || other->at_s - (*std::prev(after))->at_s >= nearest_s);
        if (apart && unmistakable(std::span(&other, 1), members, run, rivals, limits)) {
            members.insert(after, other);
        }
    }
    return members;
}
} // namespace

std::vector<const RunMember*> find_run(std::span<const RunMember* const> candidates, const RunLimits& limits) {
    Settled settled;
    if (Members first = founders(candidates, limits); !first.empty()) {
        settled = settled_run(candidates, std::move(first), limits);
    }
    if (!is_run(settled.members, settled.run, candidates, limits)) {
        Members convincing;
        std::ranges::copy_if(candidates, std::back_inserter(convincing),
                             [](const RunMember* c) { return c->convincing; });
        if (convincing.size() < limits.min_taps) {
            return {};
        }
        settled = settled_run(candidates, std::move(convincing), limits);
        if (!is_run(settled.members, settled.run, candidates, limits)) {
            return {};
        }
    }
    Members members = with_second_kind(candidates, settled.members, limits);
    const Run run = describe_run(members, limits.oddness);
    std::erase_if(members, [&](const RunMember* m) { return !level_possible(*m, run, limits.max_level_apart_db); });
    if (members.size() < limits.min_taps || !stands_out(run, limits)) {
        return {};
    }
    return with_those_off_beat(candidates, std::move(members), limits);
}

} // namespace retap::dsp
