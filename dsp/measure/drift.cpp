#include "dsp/measure/drift.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numbers>
#include <vector>

namespace retap::dsp {

namespace {

constexpr std::size_t max_for_exact = 60;

// Chance that a random order of n different values has no more than `inversions` pairs in the wrong order. The number
// of inversions is the sum of independent uniform numbers 0..i for i = 1..n-1.
double chance_of_inversions_up_to(std::size_t inversions, std::size_t n) {
    std::vector<double> chance{1.0};
    for (std::size_t i = 1; i < n; ++i) {
        std::vector<double> next(chance.size() + i, 0.0);
        for (std::size_t k = 0; k < chance.size(); ++k) {
            for (std::size_t add = 0; add <= i; ++add) {
                next[k + add] += chance[k] / static_cast<double>(i + 1);
            }
        }
        chance = std::move(next);
    }
    double sum = 0.0;
    for (std::size_t k = 0; k <= inversions && k < chance.size(); ++k) {
        sum += chance[k];
    }
    return sum;
}

double variance_of_s(std::span<const double> values) {
    std::map<double, double> times;
    for (const double v : values) {
        times[v] += 1.0;
    }
    const auto term = [](double n) { return n * (n - 1.0) * (2.0 * n + 5.0); };
    double sum = term(static_cast<double>(values.size()));
    for (const auto& [value, t] : times) {
        sum -= term(t);
    }
    return sum / 18.0;
}

double p_value(std::span<const double> values, double s, bool ties) {
    const std::size_t n = values.size();
    if (!ties && n <= max_for_exact) {
        const double pairs = 0.5 * static_cast<double>(n) * static_cast<double>(n - 1);
        const auto fewer = static_cast<std::size_t>(std::lround(0.5 * (pairs - std::abs(s))));
        return std::min(1.0, 2.0 * chance_of_inversions_up_to(fewer, n));
    }
    const double variance = variance_of_s(values);
    const double z = variance > 0.0 ? std::max(0.0, std::abs(s) - 1.0) / std::sqrt(variance) : 0.0;
    return std::erfc(z / std::numbers::sqrt2);
}

} // namespace

Trend trend_over_taps(std::span<const double> values) {
    assert(std::ranges::none_of(values, [](double v) { return std::isnan(v); }));
    Trend trend{.n = values.size()};
    if (values.size() < 2) {
        return trend;
    }
    std::vector<double> slopes;
    double s = 0.0;
    bool ties = false;
    for (std::size_t i = 0; i < values.size(); ++i) {
        for (std::size_t j = i + 1; j < values.size(); ++j) {
            slopes.push_back((values[j] - values[i]) / static_cast<double>(j - i));
            s += values[j] > values[i] ? 1.0 : values[j] < values[i] ? -1.0 : 0.0;
            ties = ties || values[j] == values[i];
        }
    }
    trend.per_tap = median(slopes);
    trend.tau = s / static_cast<double>(slopes.size());
    trend.p = p_value(values, s, ties);
    return trend;
}

} // namespace retap::dsp
