#include "compare/likeness.hpp"

#include <algorithm>
#include <cmath>

namespace retap::compare {

double likeness_of(double ratio, const CompareSettings& settings) {
    return 100.0 / (1.0 + std::pow(std::max(0.0, ratio) / settings.landing_tolerance, settings.likeness_steepness));
}

Likeness likeness_with_interval(const LandingDifference& difference, const CompareSettings& settings) {
    const double reach = settings.interval_sigmas * difference.standard_error;
    return {.score = likeness_of(difference.ratio, settings),
            .low = likeness_of(difference.ratio + reach, settings),
            .high = likeness_of(difference.ratio - reach, settings)};
}

Finding judge_landing(const LandingDifference& difference, const CompareSettings& settings) {
    const double reach = settings.interval_sigmas * difference.standard_error;
    if (difference.ratio + reach <= settings.landing_tolerance) {
        return Finding::within;
    }
    if (difference.ratio - reach > settings.landing_tolerance) {
        return Finding::beyond;
    }
    return Finding::unclear;
}

} // namespace retap::compare
