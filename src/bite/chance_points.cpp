#include "bite/chance_points.hpp"

#include <cmath>

namespace retap::bite {

namespace {

double strayed_m(const Tapping& t, Random& random) {
    const double beside = random.uniform(0.0, 1.0) < t.point_missing ? random.log_uniform(8e-6, 40e-6) : 0.0;
    return beside + random.normal(0.0, t.point_scatter_m);
}

// How many happen of what happens `mean` times on average (Knuth's product of uniforms; fine for a few).
std::size_t happens(double mean, Random& random) {
    const double until = std::exp(-mean);
    std::size_t count = 0;
    for (double product = random.uniform(0.0, 1.0); product > until; product *= random.uniform(0.0, 1.0)) {
        ++count;
    }
    return count;
}

} // namespace

void draw_points(const Patient& patient, Random& random, Approach& approach) {
    const Tapping& t = patient.tapping;
    approach.more = patient.more_contacts;
    if (t.point_scatter_m <= 0.0 && t.point_missing <= 0.0 && t.brushes <= 0.0) {
        return;
    }
    for (MoreContact& point : approach.more) {
        point.later_m += strayed_m(t, random);
    }
    for (std::size_t pair = 0; pair < pair_count; ++pair) {
        // The pair's own point strays; the others are told from it and stay where they are.
        const double strayed = strayed_m(t, random);
        approach.extra_gap_m.at(pair) += strayed;
        for (MoreContact& point : approach.more) {
            point.later_m -= point.pair == pair ? strayed : 0.0;
        }
    }
    const std::size_t brushes = happens(t.brushes, random);
    for (std::size_t n = 0; n < brushes; ++n) {
        const std::size_t pair = random.below(pair_count);
        // Early against the bite plane, wherever this tooth itself meets.
        const double own_m = patient.pairs.at(pair).gap_m + approach.extra_gap_m.at(pair);
        approach.more.push_back({.pair = pair,
                                 .later_m = -own_m - random.log_uniform(3e-6, 40e-6),
                                 .share = random.log_uniform(0.005, 0.05)});
    }
}

} // namespace retap::bite
