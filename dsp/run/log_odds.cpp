#include "dsp/run/log_odds.hpp"

#include "dsp/run/pattern_log_odds.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

using Members = std::span<const RunMember* const>;

constexpr auto by_time = [](const RunMember* a, const RunMember* b) { return a->at_s < b->at_s; };

// Logarithm of the prominence that taps have at least.
double min_suddenness(const Run& run, const ChainLimits& limits) {
    return std::min(run.log_prominence - std::log(limits.as_sudden), std::log(limits.sudden));
}

// The restless background is like the taps at times, and on their beat, but not as sudden.
double for_suddenness(double log_prominence, const Run& run, const ChainLimits& limits) {
    const double lacking = std::max(0.0, min_suddenness(run, limits) - log_prominence);
    return -std::min(limits.max_faint, limits.faint * lacking);
}

// Sounds that are no taps come in company: a syllable among others, things on a tray. One that convinces by itself and
// has nothing but taps around it is likely to be one.
std::vector<double> priors(Members candidates, Members members, const Run& run, const ChainLimits& limits) {
    std::vector<double> prior(candidates.size(), 0.0);
    std::vector<bool> is_member(candidates.size());
    std::size_t next = 0;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        while (next < members.size() && members[next]->at_s < candidates[i]->at_s) {
            ++next;
        }
        is_member[i] = next < members.size() && members[next] == candidates[i];
    }
    std::size_t from = 0;
    std::size_t to = 0;
    double taps = 0.0;
    double others = 0.0;
    const auto is_other = [&](std::size_t i) { return !is_member[i] && as_sudden(*candidates[i], run, limits); };
    const auto count = [&](std::size_t i, double by) {
        taps += is_member[i] ? by : 0.0;
        others += is_other(i) ? by : 0.0;
    };
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        for (; to < candidates.size() && candidates[to]->at_s <= candidates[i]->at_s + limits.company_s; ++to) {
            count(to, 1.0);
        }
        for (; candidates[from]->at_s < candidates[i]->at_s - limits.company_s; ++from) {
            count(from, -1.0);
        }
        if (candidates[i]->convincing) {
            const double besides = others - (is_other(i) ? 1.0 : 0.0);
            prior[i] = std::clamp(std::log((taps + 1.0) / (2.0 * besides + 1.0)), 0.0, limits.max_prior);
        }
    }
    return prior;
}

} // namespace

bool as_sudden(const RunMember& event, const Run& run, const ChainLimits& limits) {
    return event.log_prominence >= min_suddenness(run, limits);
}

std::vector<double> tap_log_odds(Members candidates, Members members, const Run& run, const ChainLimits& limits) {
    assert(std::ranges::is_sorted(members, by_time));
    std::vector<double> worth;
    worth.reserve(candidates.size());
    const std::vector<double> prior = priors(candidates, members, run, limits);
    const std::vector<double> likeness = pattern_log_odds_of_each(candidates, members, run, limits);
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const RunMember* event = candidates[i];
        const double level = std::abs(event->level_db - run.level_db) / run.level_scatter_db;
        worth.push_back(prior[i] + likeness[i] + for_suddenness(event->log_prominence, run, limits) -
                        level * level / (1.0 + level * level / limits.max_level));
    }
    return worth;
}

} // namespace retap::dsp
