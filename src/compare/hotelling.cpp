#include "compare/hotelling.hpp"

#include "compare/distributions.hpp"
#include "compare/scatter_matrix.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::compare {

namespace {

using Rows = std::span<const std::vector<double>>;

std::vector<double> centre_of(Rows rows) {
    std::vector<double> mean(rows.front().size(), 0.0);
    for (const std::vector<double>& row : rows) {
        assert(row.size() == mean.size());
        for (std::size_t i = 0; i < mean.size(); ++i) {
            mean[i] += row[i] / static_cast<double>(rows.size());
        }
    }
    return mean;
}

std::vector<double> minus(std::span<const double> a, std::span<const double> b) {
    std::vector<double> difference(a.size());
    std::ranges::transform(a, b, difference.begin(), [](double x, double y) { return x - y; });
    return difference;
}

// `degrees` of the covariance; T^2 (degrees - p + 1) / (degrees p) is F with p and degrees - p + 1.
HotellingTest finish(double t_squared, double degrees, double p) {
    HotellingTest test{.t_squared = t_squared, .degrees_top = p, .degrees_bottom = degrees - p + 1.0};
    test.f = t_squared * test.degrees_bottom / (degrees * p);
    test.p = f_above(test.f, test.degrees_top, test.degrees_bottom);
    return test;
}

} // namespace

std::optional<HotellingTest> hotelling_one_group(Rows rows, std::span<const double> centre) {
    assert(!centre.empty());
    if (rows.size() <= centre.size()) {
        return std::nullopt;
    }
    const std::vector<double> mean = centre_of(rows);
    ScatterMatrix scatter(centre.size());
    scatter.add(rows, mean);
    const auto distance = scatter.squared_distance(minus(mean, centre));
    if (!distance) {
        return std::nullopt;
    }
    const auto n = static_cast<double>(rows.size());
    return finish(n * (n - 1.0) * *distance, n - 1.0, static_cast<double>(centre.size()));
}

std::optional<HotellingTest> hotelling_two_groups(Rows first, Rows second) {
    if (first.empty() || second.empty()) {
        return std::nullopt;
    }
    const std::size_t size = first.front().size();
    assert(size >= 1);
    if (first.size() + second.size() < size + 2) {
        return std::nullopt;
    }
    const std::vector<double> mean1 = centre_of(first);
    const std::vector<double> mean2 = centre_of(second);
    ScatterMatrix scatter(size);
    scatter.add(first, mean1);
    scatter.add(second, mean2);
    const auto distance = scatter.squared_distance(minus(mean1, mean2));
    if (!distance) {
        return std::nullopt;
    }
    const auto n1 = static_cast<double>(first.size());
    const auto n2 = static_cast<double>(second.size());
    const double degrees = n1 + n2 - 2.0;
    return finish(n1 * n2 / (n1 + n2) * degrees * *distance, degrees, static_cast<double>(size));
}

} // namespace retap::compare
