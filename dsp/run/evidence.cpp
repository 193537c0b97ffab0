#include "dsp/run/evidence.hpp"

#include "dsp/run/log_odds.hpp"
#include "dsp/run/pattern_log_odds.hpp"
#include "dsp/run/viterbi_chain.hpp"

#include <algorithm>
#include <cmath>

namespace retap::dsp {

namespace {

// What the likeliest of so many chains has to show: the more sounds there are to choose from, the better some of them
// go together by chance.
double needed_evidence(std::span<const RunMember* const> members, const Run& run,
                       std::span<const RunMember* const> candidates, const RunLimits& limits) {
    const double around_s = limits.chain.shortest_pause * run.interval_s;
    const double from_s = members.front()->at_s - around_s;
    const double to_s = members.back()->at_s + around_s;
    const auto sudden = [&](const RunMember* c) { return as_sudden(*c, run, limits.chain); };
    const auto all = static_cast<double>(std::ranges::count_if(candidates, sudden));
    const auto count = static_cast<double>(members.size());
    const auto there = std::max(count, static_cast<double>(std::ranges::count_if(candidates, [&](const RunMember* c) {
                                    return sudden(c) && c->at_s >= from_s && c->at_s <= to_s;
                                })));
    double log_ways = 0.0; // of choosing so many of them
    for (std::size_t k = 1; k <= members.size(); ++k) {
        log_ways += std::log((there - count + static_cast<double>(k)) / static_cast<double>(k));
    }
    return limits.min_evidence + log_ways + std::log(std::max(1.0, all / there));
}

// What a beat that is steadier than usual speaks for a run, beyond evidence_for(): the ratio of two normal likelihoods
// of the intervals, one of them with their own scatter, less what fitting that gains by itself.
double steadiness(std::span<const RunMember* const> members, const Run& run, const RunLimits& limits) {
    constexpr double steadiest = 0.03; // nobody taps like a clock
    constexpr double fitted = 1.0;
    double squares = 0.0;
    double steps = 0.0;
    for (std::size_t i = 1; i < members.size(); ++i) {
        const double intervals = (members[i]->at_s - members[i - 1]->at_s) / run.interval_s;
        if (intervals <= limits.chain.widest_gap) {
            const double off = std::log(std::max(intervals, 1e-3) / std::max(1.0, std::round(intervals)));
            squares += off * off;
            steps += 1.0;
        }
    }
    const double usual = limits.oddness.interval;
    const double own = std::max(steadiest, std::sqrt(squares / std::max(1.0, steps)));
    if (own >= usual) {
        return 0.0;
    }
    const double gain = steps * std::log(usual / own) + 0.5 * squares * (1.0 / (usual * usual) - 1.0 / (own * own));
    return std::max(0.0, gain - fitted);
}

} // namespace

double evidence_for(std::span<const RunMember* const> members, const Run& run, const Oddness& scales,
                    const ChainLimits& limits) {
    double evidence = 0.0;
    for (std::size_t i = 0; i < members.size(); ++i) {
        evidence += limited_pattern_log_odds(members, *members[i], run, limits);
        evidence += members[i]->convincing ? limits.convincing : -limits.unconvincing;
        if (i > 0) {
            evidence += for_step(members[i]->at_s - members[i - 1]->at_s, run, scales.interval, limits);
        }
    }
    return evidence;
}

bool level_possible(const RunMember& event, const Run& run, double max_apart_db) {
    return std::abs(event.level_db - run.level_db) <= max_apart_db;
}

bool is_run(std::span<const RunMember* const> members, const Run& run, std::span<const RunMember* const> candidates,
            const RunLimits& limits) {
    if (members.size() < limits.min_taps) {
        return false;
    }
    const bool steady = members.size() >= limits.steady_taps && run.interval_scatter <= limits.oddness.interval;
    const double for_each = steady ? limits.min_for_steady : limits.min_for_each;
    double evidence = evidence_for(members, run, limits.oddness, limits.chain);
    if (steady) {
        evidence += steadiness(members, run, limits);
    }
    return evidence >= needed_evidence(members, run, candidates, limits) &&
           evidence >= for_each * static_cast<double>(members.size());
}

bool unmistakable(std::span<const RunMember* const> stretch, std::span<const RunMember* const> members, const Run& run,
                  std::size_t others, const RunLimits& limits) {
    const double odds = static_cast<double>(std::max<std::size_t>(others, 1)) / static_cast<double>(members.size());
    double evidence = 0.0;
    for (std::size_t i = 0; i < stretch.size(); ++i) {
        const RunMember& event = *stretch[i];
        const double likeness = pattern_log_odds(members, event, run, limits.chain);
        if (!event.convincing || likeness <= 0.0 || !as_sudden(event, run, limits.chain) ||
            !level_possible(event, run, limits.max_level_apart_db)) {
            return false;
        }
        evidence += likeness;
        if (i > 0) {
            evidence += for_step(event.at_s - stretch[i - 1]->at_s, run, limits.oddness.interval, limits.chain);
        }
    }
    return evidence >= limits.min_likeness + std::log(odds);
}

} // namespace retap::dsp
