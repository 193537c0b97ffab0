#include "compare/listening_sensitivity.hpp"

#include "compare/distributions.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace retap::compare {

namespace {

constexpr double most_sensitive = 12.0;

// n log p that is 0 for no events, so that a rate of 0 or 1 that was seen is not held against itself.
double log_part(std::size_t events, double p) {
    return events == 0 ? 0.0 : static_cast<double>(events) * std::log(p);
}

double log_likelihood(const SameDifferentCounts& counts, const SameDifferentRates& rates) {
    return log_part(counts.different_called, rates.hits) +
           log_part(counts.different - counts.different_called, 1.0 - rates.hits) +
           log_part(counts.same_called_different, rates.false_alarms) +
           log_part(counts.same - counts.same_called_different, 1.0 - rates.false_alarms);
}

} // namespace

double sensitivity_yes_no(double hits, double false_alarms) {
    return normal_quantile(hits) - normal_quantile(false_alarms);
}

double sensitivity_one_of_two(double right) {
    return std::numbers::sqrt2 * normal_quantile(right);
}

double right_in_triangle(double sensitivity) {
    assert(sensitivity >= 0.0);
    constexpr int intervals = 2000;
    constexpr double end = 9.0; // the normal density is below 1e-18 there
    constexpr double step = end / intervals;
    const double shift = sensitivity * std::sqrt(2.0 / 3.0);
    const double root_of_three = std::sqrt(3.0);
    double sum = 0.0;
    for (int i = 0; i <= intervals; ++i) {
        const double z = step * i;
        const double density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
        const double beyond = normal_below(shift - root_of_three * z) + normal_below(-shift - root_of_three * z);
        const double weight = i == 0 || i == intervals ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
        sum += weight * density * beyond;
    }
    return 2.0 * sum * step / 3.0;
}

double sensitivity_in_triangle(double right) {
    assert(right > 0.0 && right < 1.0);
    double low = 0.0;
    double high = most_sensitive;
    if (right <= right_in_triangle(low)) {
        return low;
    }
    while (high - low > 1e-10) {
        const double middle = 0.5 * (low + high);
        (right_in_triangle(middle) < right ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

SameDifferentRates same_different_rates(double sensitivity, double limit) {
    assert(sensitivity >= 0.0 && limit >= 0.0);
    const double k = limit / std::numbers::sqrt2;
    const double d = sensitivity / std::numbers::sqrt2;
    return {.hits = normal_below(d - k) + normal_below(-d - k), .false_alarms = 2.0 * normal_below(-k)};
}

std::optional<Sensitivity> same_different_sensitivity(const SameDifferentCounts& counts, double confidence) {
    assert(counts.different_called <= counts.different && counts.same_called_different <= counts.same);
    if (counts.different == 0 || counts.same == 0) {
        return std::nullopt;
    }
    constexpr double step = 0.02;
    constexpr int values = 401; // 0 to 8
    constexpr int limits = 401; // 0.01 to 8.01: a limit of exactly 0 would call everything different
    std::vector<double> best_at(values, -std::numeric_limits<double>::infinity());
    for (std::size_t i = 0; i < best_at.size(); ++i) {
        for (int k = 0; k < limits; ++k) {
            const auto rates = same_different_rates(step * static_cast<double>(i), 0.01 + step * k);
            best_at[i] = std::max(best_at[i], log_likelihood(counts, rates));
        }
    }
    const auto best = std::max_element(best_at.begin(), best_at.end());
    const double allowed = 0.5 * chi_squared_quantile(confidence, 1.0);
    const auto inside = [&](double likelihood) { return *best - likelihood <= allowed; };
    const auto first = std::find_if(best_at.begin(), best_at.end(), inside);
    const auto last = std::find_if(best_at.rbegin(), best_at.rend(), inside);
    Sensitivity found{.value = step * static_cast<double>(best - best_at.begin()),
                      .low = step * static_cast<double>(first - best_at.begin()),
                      .high = std::nullopt};
    if (last != best_at.rbegin()) {
        found.high = step * static_cast<double>(best_at.rend() - last - 1);
    }
    return found;
}

} // namespace retap::compare
