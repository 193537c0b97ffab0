#include "dsp/run/features.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::dsp {

namespace {

double saturating(double x, double scatter, double most) {
    const double q = x * x / (scatter * scatter);
    return q / (1.0 + q / most);
}

std::vector<double> values_of(std::span<const RunMember* const> members, double RunMember::*value) {
    std::vector<double> values;
    values.reserve(members.size());
    std::ranges::transform(members, std::back_inserter(values), [&](const RunMember* m) { return m->*value; });
    return values;
}

// How far the nearest other member is from being one interval away.
double beat(double at_s, const Run& run, const Oddness& scales) {
    double least = scales.max_beat;
    const auto consider = [&](double distance) {
        least = std::min(least, saturating(std::log(std::max(distance, 1e-3) / run.interval_s), run.interval_scatter,
                                           scales.max_beat));
    };
    constexpr double itself = 0.05;
    const auto after = std::ranges::upper_bound(run.times_s, at_s + itself);
    if (after != run.times_s.end()) {
        consider(*after - at_s);
    }
    const auto before = std::ranges::lower_bound(run.times_s, at_s - itself);
    if (before != run.times_s.begin()) {
        consider(at_s - *std::prev(before));
    }
    return least;
}

} // namespace

RunMember run_member(const EventShape& shape, double at_s, bool convincing) {
    const double prominence = std::max(shape.prominence, 1e-3);
    return {.at_s = at_s,
            .level_db = shape.loudness.db(),
            .abruptness_db = 10.0 * std::log10(prominence) - shape.loudness.db(),
            .log_prominence = std::log(prominence),
            .pattern = shape.pattern,
            .convincing = convincing};
}

Run describe_run(std::span<const RunMember* const> members, const Oddness& scales) {
    assert(members.size() >= 2);
    Run run;
    run.times_s = values_of(members, &RunMember::at_s);
    assert(std::ranges::is_sorted(run.times_s));
    std::vector<double> intervals;
    for (std::size_t i = 1; i < members.size(); ++i) {
        intervals.push_back(run.times_s[i] - run.times_s[i - 1]);
    }
    run.interval_s = std::max(median(intervals), 1e-3);
    for (double& interval : intervals) {
        interval = std::log(std::max(interval, 1e-3) / run.interval_s);
    }
    run.interval_scatter = std::max(scales.interval, robust_scatter(intervals));

    std::vector<const BandTimePattern*> patterns;
    std::ranges::transform(members, std::back_inserter(patterns), [](const RunMember* m) { return &m->pattern; });
    run.pattern = median_pattern(patterns);
    std::vector<double> distances;
    std::ranges::transform(patterns, std::back_inserter(distances),
                           [&](const BandTimePattern* i) { return pattern_distance(*i, run.pattern); });
    run.pattern_scatter_db = std::max(scales.pattern_db, 1.2 * median(distances));

    const std::vector<double> levels = values_of(members, &RunMember::level_db);
    run.level_db = median(levels);
    run.level_scatter_db = std::max(scales.level_db, robust_scatter(levels));
    const std::vector<double> abruptness = values_of(members, &RunMember::abruptness_db);
    run.abruptness_db = median(abruptness);
    run.abruptness_scatter_db = std::max(scales.abruptness_db, robust_scatter(abruptness));
    run.log_prominence = median(values_of(members, &RunMember::log_prominence));
    return run;
}

Oddities oddities(const RunMember& event, const Run& run, const Oddness& scales) {
    return {.pattern =
                saturating(pattern_distance(event.pattern, run.pattern), run.pattern_scatter_db, scales.max_pattern),
            .level = saturating(event.level_db - run.level_db, run.level_scatter_db, scales.max_level),
            .abruptness =
                saturating(event.abruptness_db - run.abruptness_db, run.abruptness_scatter_db, scales.max_abruptness),
            .beat = beat(event.at_s, run, scales)};
}

double oddness_between(const RunMember& a, const RunMember& b, const Oddness& scales) {
    return 0.5 * (saturating(pattern_distance(a.pattern, b.pattern), scales.pattern_db, scales.max_pattern) +
                  saturating(a.level_db - b.level_db, scales.level_db, scales.max_level) +
                  saturating(a.abruptness_db - b.abruptness_db, scales.abruptness_db, scales.max_abruptness));
}

} // namespace retap::dsp
