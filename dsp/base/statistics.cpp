#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <vector>

namespace retap::dsp {

namespace {

// 1 / E(1.4826 MAD) of n standard normal values. For n = 2 it is sqrt(pi) / 1.4826 exactly; for the others the mean of
// two million drawn samples, good to 0.001 (the test draws again). From 10 on n / (n - 0.8) is within 1 %.
double small_sample_factor(std::size_t n) {
    constexpr std::array<double, 10> table{1.0, 1.0, 1.1955, 1.4866, 1.360, 1.2165, 1.190, 1.138, 1.127, 1.101};
    if (n < table.size()) {
        return table[n];
    }
    const auto count = static_cast<double>(n);
    return count / (count - 0.8);
}

} // namespace

double mean(std::span<const float> samples) {
    double sum = 0.0;
    for (const float v : samples) {
        sum += static_cast<double>(v);
    }
    return samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
}

double quantile(std::span<const double> values, double p) {
    assert(!values.empty() && p >= 0.0 && p <= 1.0);
    assert(std::ranges::none_of(values, [](double v) { return std::isnan(v); }));
    std::vector<double> sorted(values.begin(), values.end());
    const double position = static_cast<double>(sorted.size() - 1) * p;
    const auto below = static_cast<std::size_t>(position);
    const auto at = sorted.begin() + static_cast<std::ptrdiff_t>(below);
    std::ranges::nth_element(sorted, at);
    const double low = *at;
    const double fraction = position - static_cast<double>(below);
    if (fraction == 0.0) {
        return low;
    }
    const double high = *std::ranges::min_element(at + 1, sorted.end());
    return low + fraction * (high - low);
}

double median(std::span<const double> values) {
    return quantile(values, 0.5);
}

double robust_scatter(std::span<const double> values) {
    const double middle = median(values);
    std::vector<double> distances;
    distances.reserve(values.size());
    std::ranges::transform(values, std::back_inserter(distances), [middle](double v) { return std::abs(v - middle); });
    constexpr double normal_consistency = 1.482602218505602; // 1 / (75 % point of the standard normal distribution)
    return normal_consistency * small_sample_factor(values.size()) * median(distances);
}

Summary summarise(std::span<const double> values) {
    if (values.empty()) {
        return {};
    }
    return {.middle = median(values), .scatter = robust_scatter(values), .n = values.size()};
}

} // namespace retap::dsp
