#include "compare/statistics.hpp"

#include "compare/distributions.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

namespace retap::compare {

Moments moments(std::span<const double> values) {
    assert(!values.empty());
    const auto n = static_cast<double>(values.size());
    const double mean = std::accumulate(values.begin(), values.end(), 0.0) / n;
    double sum = 0.0;
    double squares = 0.0;
    for (const double v : values) {
        sum += v - mean;
        squares += (v - mean) * (v - mean);
    }
    const double variance = values.size() < 2 ? 0.0 : (squares - sum * sum / n) / (n - 1.0);
    return {.n = values.size(), .mean = mean + sum / n, .sd = std::sqrt(std::max(0.0, variance))};
}

double MeanDifference::t() const {
    if (standard_error == 0.0) {
        return difference == 0.0 ? 0.0 : std::copysign(std::numeric_limits<double>::infinity(), difference);
    }
    return difference / standard_error;
}

MeanDifference mean_difference(const Moments& first, const Moments& second) {
    assert(first.n >= 2 && second.n >= 2);
    const auto n1 = static_cast<double>(first.n);
    const auto n2 = static_cast<double>(second.n);
    const double v1 = first.sd * first.sd / n1;
    const double v2 = second.sd * second.sd / n2;
    MeanDifference result{
        .difference = second.mean - first.mean, .standard_error = std::sqrt(v1 + v2), .degrees = n1 + n2 - 2.0};
    if (v1 + v2 > 0.0) {
        const double share = v1 / (v1 + v2); // of the variance; keeps tiny variances from vanishing when squared
        result.degrees = 1.0 / (share * share / (n1 - 1.0) + (1.0 - share) * (1.0 - share) / (n2 - 1.0));
    }
    return result;
}

Interval confidence_interval(const MeanDifference& difference, double confidence) {
    assert(confidence > 0.0 && confidence < 1.0);
    const double reach = student_quantile(0.5 + 0.5 * confidence, difference.degrees) * difference.standard_error;
    return {.low = difference.difference - reach, .high = difference.difference + reach};
}

EquivalenceTest test_equivalence(const MeanDifference& difference, double tolerance) {
    assert(tolerance > 0.0);
    MeanDifference from_low = difference;
    from_low.difference += tolerance;
    MeanDifference from_high = difference;
    from_high.difference -= tolerance;
    EquivalenceTest test;
    test.p_above_low = student_above(from_low.t(), difference.degrees);
    test.p_below_high = student_below(from_high.t(), difference.degrees);
    test.p = std::max(test.p_above_low, test.p_below_high);
    return test;
}

double Repeatability::coefficient() const {
    return 1.96 * std::numbers::sqrt2 * within_sd;
}

Repeatability repeatability(std::span<const std::vector<double>> groups) {
    double squares = 0.0;
    double degrees = 0.0;
    for (const std::vector<double>& group : groups) {
        if (group.size() >= 2) {
            const Moments m = moments(group);
            const auto free = static_cast<double>(m.n - 1);
            squares += free * m.sd * m.sd;
            degrees += free;
        }
    }
    return {.within_sd = degrees > 0.0 ? std::sqrt(squares / degrees) : 0.0, .degrees = degrees};
}

} // namespace retap::compare
