#include "dsp/run/viterbi_chain.hpp"

#include "dsp/base/normal_nll.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <optional>

namespace retap::dsp {

namespace {

using Members = std::span<const RunMember* const>;

constexpr auto by_time = [](const RunMember* a, const RunMember* b) { return a->at_s < b->at_s; };

struct Link {
    double sum = 0.0; ///< what speaks for the best chain that ends in it
    std::optional<std::size_t> before{};
};

} // namespace

double for_step(double interval_s, const Run& run, double usual_scatter, const ChainLimits& limits) {
    const double intervals = std::max(interval_s, 1e-3) / run.interval_s;
    if (intervals > limits.widest_gap) {
        return -limits.pause;
    }
    const auto explained_by = [&](double whole) {
        const double off = normal_nll(std::log(intervals / whole), run.interval_scatter);
        return -std::min(off, limits.max_off_beat) - limits.missed * (whole - 1.0);
    };
    const double step = limits.on_beat - std::log(run.interval_scatter / usual_scatter) +
                        std::max(explained_by(1.0), explained_by(std::max(1.0, std::round(intervals))));
    return intervals > limits.shortest_pause ? std::max(step, -limits.pause) : step;
}

Run on_interval(Run run, double interval_s, const Oddness& scales, const ChainLimits& limits) {
    std::vector<double> off;
    for (std::size_t i = 1; i < run.times_s.size(); ++i) {
        const double intervals = std::max(run.times_s[i] - run.times_s[i - 1], 1e-3) / interval_s;
        if (intervals <= limits.widest_gap) {
            off.push_back(std::log(intervals / std::max(1.0, std::round(intervals))));
        }
    }
    run.interval_s = interval_s;
    run.interval_scatter = off.empty() ? scales.interval : std::max(scales.interval, robust_scatter(off));
    return run;
}

Chain viterbi_chain(Members candidates, std::span<const double> worth, const Run& run, const Oddness& scales,
                    const ChainLimits& limits) {
    assert(std::ranges::is_sorted(candidates, by_time) && candidates.size() == worth.size());
    std::vector<Link> links(candidates.size());
    std::optional<std::size_t> before_pause; // the best end of a chain that a pause may follow
    std::size_t near = 0;                    // the first candidate that is no pause away
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const RunMember& event = *candidates[i];
        Link& link = links[i];
        double gained = 0.0;
        const auto consider = [&](std::size_t k) {
            const double step = for_step(event.at_s - candidates[k]->at_s, run, scales.interval, limits);
            if (links[k].sum + step > gained) {
                gained = links[k].sum + step;
                link.before = k;
            }
        };
        for (; candidates[near]->at_s < event.at_s - limits.widest_gap * run.interval_s; ++near) {
            before_pause = before_pause && links[*before_pause].sum >= links[near].sum ? before_pause : near;
        }
        if (before_pause) {
            consider(*before_pause);
        }
        for (std::size_t k = near; k < i; ++k) {
            consider(k);
        }
        link.sum = worth[i] + gained;
        best = best && links[*best].sum >= link.sum ? best : i;
    }

    Chain chain;
    if (!best || links[*best].sum <= 0.0) {
        return chain;
    }
    chain.support = links[*best].sum;
    for (std::optional<std::size_t> i = best; i; i = links[*i].before) {
        chain.members.push_back(candidates[*i]);
    }
    std::ranges::reverse(chain.members);
    return chain;
}

} // namespace retap::dsp
