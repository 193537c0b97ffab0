#include "dsp/run_evidence.hpp"

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
    const double least = least_suddenness(run, limits.chain);
    const auto sudden = [&](const RunMember* c) { return c->log_prominence >= least; };
    const auto all = static_cast<double>(std::ranges::count_if(candidates, sudden));
    const auto count = static_cast<double>(members.size());
    const auto there = std::max(count, static_cast<double>(std::ranges::count_if(candidates, [&](const RunMember* c) {
                                    return sudden(c) && c->at_s >= from_s && c->at_s <= to_s;
                                })));
    const double ways = std::lgamma(there + 1.0) - std::lgamma(count + 1.0) - std::lgamma(there - count + 1.0);
    return limits.least_evidence + ways + std::log(std::max(1.0, all / there));
}

} // namespace

bool level_possible(const RunMember& event, const Run& run, double most_apart_db) {
    return std::abs(event.level_db - run.level_db) <= most_apart_db;
}

bool as_sudden(const RunMember& event, const Run& run, const RunLimits& limits) {
    return event.log_prominence > least_suddenness(run, limits.chain);
}

bool is_run(std::span<const RunMember* const> members, const Run& run, std::span<const RunMember* const> candidates,
            const RunLimits& limits) {
    if (members.size() < limits.least_taps) {
        return false;
    }
    const bool steady = members.size() >= limits.steady_taps && run.interval_scatter <= limits.oddness.interval;
    const double for_each = steady ? limits.least_for_steady : limits.least_for_each;
    const double evidence = evidence_for(members, run, limits.oddness, limits.chain);
    return evidence >= needed_evidence(members, run, candidates, limits) &&
           evidence >= for_each * static_cast<double>(members.size());
}

bool unmistakable(std::span<const RunMember* const> stretch, std::span<const RunMember* const> members, const Run& run,
                  std::size_t others, const RunLimits& limits) {
    const double odds = static_cast<double>(std::max<std::size_t>(others, 1)) / static_cast<double>(members.size());
    double evidence = 0.0;
    for (std::size_t i = 0; i < stretch.size(); ++i) {
        const RunMember& event = *stretch[i];
        const double likeness = likeness_to(members, event, run, limits.chain);
        if (!event.convincing || likeness <= 0.0 || !as_sudden(event, run, limits) ||
            !level_possible(event, run, limits.most_level_apart_db)) {
            return false;
        }
        evidence += likeness;
        if (i > 0) {
            evidence += for_step(event.at_s - stretch[i - 1]->at_s, run, limits.oddness.interval, limits.chain);
        }
    }
    return evidence >= limits.least_likeness + std::log(odds);
}

} // namespace retap::dsp
