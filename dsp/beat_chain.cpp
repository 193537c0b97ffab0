#include "dsp/beat_chain.hpp"

#include "dsp/robust.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <numeric>
#include <optional>

namespace retap::dsp {

namespace {

using Members = std::span<const RunMember* const>;

constexpr auto by_time = [](const RunMember* a, const RunMember* b) { return a->at_s < b->at_s; };

struct Nearness {
    double distance_db = 0.0; // mean over the members it is most like
    std::size_t of = 0;       // how many it was held against
};

// Without itself.
Nearness nearness_to(Members members, const RunMember& event, const ChainLimits& limits) {
    const auto at = std::ranges::lower_bound(members, &event, by_time) - members.begin();
    const auto around = static_cast<std::ptrdiff_t>(limits.around);
    const std::ptrdiff_t from = std::max<std::ptrdiff_t>(0, at - around);
    const std::ptrdiff_t to = std::min(std::ssize(members), at + around + 1);
    std::vector<double> distances;
    for (std::ptrdiff_t i = from; i < to; ++i) {
        const RunMember* member = members[static_cast<std::size_t>(i)];
        if (member != &event) {
            distances.push_back(imprint_distance(event.imprint, member->imprint));
        }
    }
    const std::size_t nearest = std::min(limits.nearest, (distances.size() + 1) / 2);
    std::ranges::partial_sort(distances, distances.begin() + static_cast<std::ptrdiff_t>(nearest));
    const double sum =
        std::accumulate(distances.begin(), distances.begin() + static_cast<std::ptrdiff_t>(nearest), 0.0);
    return {.distance_db = sum / static_cast<double>(std::max<std::size_t>(1, nearest)), .of = distances.size()};
}

// Of several strangers the nearest are nearer than usual. The mean of the lowest `nearest` of n normal deviates, by
// Blom's approximation to their quantiles and a logistic one to the normal (both from memory; right to 0.05).
double nearest_strangers(double usual_db, std::size_t n, const ChainLimits& limits) {
    const std::size_t nearest = std::min(limits.nearest, (n + 1) / 2);
    double sum = 0.0;
    for (std::size_t i = 1; i <= nearest; ++i) {
        const double p = (static_cast<double>(i) - 0.375) / (static_cast<double>(n) + 0.25);
        sum += std::log(p / (1.0 - p)) / 1.702;
    }
    return usual_db * std::exp(limits.strange_spread * sum / static_cast<double>(std::max<std::size_t>(1, nearest)));
}

double half_square(double deviation, double scatter) {
    return 0.5 * deviation * deviation / (scatter * scatter);
}

// Nearer than usual is no less a tap, farther than usual no less a stranger.
double for_sound(double distance_db, double usual_db, double strange_db, const ChainLimits& limits) {
    const double d = std::log(std::max(distance_db, 0.1));
    const double as_tap = half_square(std::max(0.0, d - std::log(usual_db)), limits.like_spread);
    const double as_stranger = half_square(std::min(0.0, d - std::log(strange_db)), limits.strange_spread);
    return as_stranger - as_tap;
}

double limited(double for_sound, const ChainLimits& limits) {
    return std::clamp(for_sound, -limits.most_strange, limits.most_like);
}

// Logarithm of the prominence that taps have at least.
double least_suddenness(const Run& run, const ChainLimits& limits) {
    return std::min(run.log_prominence - std::log(limits.as_sudden), std::log(limits.sudden));
}

// The restless background is like the taps at times, and on their beat, but not as sudden.
double for_suddenness(double log_prominence, const Run& run, const ChainLimits& limits) {
    const double lacking = std::max(0.0, least_suddenness(run, limits) - log_prominence);
    return -std::min(limits.most_faint, limits.faint * lacking);
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
            prior[i] = std::clamp(std::log((taps + 1.0) / (2.0 * besides + 1.0)), 0.0, limits.most_prior);
        }
    }
    return prior;
}

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
        const double off = half_square(std::log(intervals / whole), run.interval_scatter);
        return -std::min(off, limits.most_off_beat) - limits.missed * (whole - 1.0);
    };
    const double step = limits.on_beat - std::log(run.interval_scatter / usual_scatter) +
                        std::max(explained_by(1.0), explained_by(std::max(1.0, std::round(intervals))));
    return intervals > limits.shortest_pause ? std::max(step, -limits.pause) : step;
}

bool as_sudden(const RunMember& event, const Run& run, const ChainLimits& limits) {
    return event.log_prominence >= least_suddenness(run, limits);
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

std::vector<double> worth_of(Members candidates, Members members, const Run& run, const ChainLimits& limits) {
    assert(std::ranges::is_sorted(members, by_time));
    std::vector<double> usual;
    std::ranges::transform(members, std::back_inserter(usual),
                           [&](const RunMember* m) { return nearness_to(members, *m, limits).distance_db; });
    const double usual_db = std::max(limits.like_db, median(usual));
    const double strange_db = std::max(usual_db, limits.strange * imprint_spread(run.imprint));

    std::vector<double> worth;
    worth.reserve(candidates.size());
    const std::vector<double> prior = priors(candidates, members, run, limits);
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        const RunMember* event = candidates[i];
        const double level = std::abs(event->level_db - run.level_db) / run.level_scatter_db;
        const double sound = for_sound(nearness_to(members, *event, limits).distance_db, usual_db, strange_db, limits);
        worth.push_back(prior[i] + limited(sound, limits) + for_suddenness(event->log_prominence, run, limits) -
                        level * level / (1.0 + level * level / limits.most_level));
    }
    return worth;
}

Chain best_chain(Members candidates, std::span<const double> worth, const Run& run, const Oddness& scales,
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

double likeness_to(Members members, const RunMember& event, const Run& run, const ChainLimits& limits) {
    const double spread_db = imprint_spread(run.imprint);
    const Nearness near = nearness_to(members, event, limits);
    return for_sound(near.distance_db, limits.like * spread_db,
                     nearest_strangers(limits.strange * spread_db, near.of, limits), limits);
}

double evidence_for(Members members, const Run& run, const Oddness& scales, const ChainLimits& limits) {
    double evidence = 0.0;
    for (std::size_t i = 0; i < members.size(); ++i) {
        evidence += limited(likeness_to(members, *members[i], run, limits), limits);
        evidence += members[i]->convincing ? limits.convincing : -limits.unconvincing;
        if (i > 0) {
            evidence += for_step(members[i]->at_s - members[i - 1]->at_s, run, scales.interval, limits);
        }
    }
    return evidence;
}

} // namespace retap::dsp
