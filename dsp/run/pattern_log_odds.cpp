#include "dsp/run/pattern_log_odds.hpp"

#include "dsp/base/normal_nll.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <numeric>

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
            distances.push_back(pattern_distance(event.pattern, member->pattern));
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

// Nearer than usual is no less a tap, farther than usual no less a stranger.
double for_sound(double distance_db, double usual_db, double strange_db, const ChainLimits& limits) {
    const double d = std::log(std::max(distance_db, 0.1));
    const double as_tap = normal_nll(std::max(0.0, d - std::log(usual_db)), limits.like_spread);
    const double as_stranger = normal_nll(std::min(0.0, d - std::log(strange_db)), limits.strange_spread);
    return as_stranger - as_tap;
}

double limited(double for_sound, const ChainLimits& limits) {
    return std::clamp(for_sound, -limits.max_strange, limits.max_like);
}

} // namespace

double pattern_log_odds(Members members, const RunMember& event, const Run& run, const ChainLimits& limits) {
    const double spread_db = pattern_spread(run.pattern);
    const Nearness near = nearness_to(members, event, limits);
    return for_sound(near.distance_db, limits.like * spread_db,
                     nearest_strangers(limits.strange * spread_db, near.of, limits), limits);
}

double limited_pattern_log_odds(Members members, const RunMember& event, const Run& run, const ChainLimits& limits) {
    return limited(pattern_log_odds(members, event, run, limits), limits);
}

std::vector<double> pattern_log_odds_of_each(Members candidates, Members members, const Run& run,
                                             const ChainLimits& limits) {
    std::vector<double> usual;
    std::ranges::transform(members, std::back_inserter(usual),
                           [&](const RunMember* m) { return nearness_to(members, *m, limits).distance_db; });
    const double usual_db = std::max(limits.like_db, median(usual));
    const double strange_db = std::max(usual_db, limits.strange * pattern_spread(run.pattern));
    std::vector<double> likeness;
    likeness.reserve(candidates.size());
    for (const RunMember* event : candidates) {
        likeness.push_back(
            limited(for_sound(nearness_to(members, *event, limits).distance_db, usual_db, strange_db, limits), limits));
    }
    return likeness;
}

} // namespace retap::dsp
