#include "compare/hotelling.hpp"

#include "compare/distributions.hpp"

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

// Symmetric matrix, row by row.
class Scatter {
public:
    explicit Scatter(std::size_t size) : size_(size), cells_(size * size, 0.0) {}

    void add(Rows rows, const std::vector<double>& centre) {
        for (const std::vector<double>& row : rows) {
            for (std::size_t i = 0; i < size_; ++i) {
                for (std::size_t j = 0; j < size_; ++j) {
                    at(i, j) += (row[i] - centre[i]) * (row[j] - centre[j]);
                }
            }
        }
    }

    // d' M^-1 d through the Cholesky factor L: solve L y = d, then y'y. Nothing when M is singular to rounding.
    [[nodiscard]] std::optional<double> squared_distance(const std::vector<double>& d) const {
        Scatter lower(size_);
        std::vector<double> y(size_);
        double sum = 0.0;
        for (std::size_t i = 0; i < size_; ++i) {
            for (std::size_t j = 0; j <= i; ++j) {
                double rest = at(i, j);
                for (std::size_t k = 0; k < j; ++k) {
                    rest -= lower.at(i, k) * lower.at(j, k);
                }
                if (i == j) {
                    constexpr double rounding = 1e-12; // of the variance there was before the others explained theirs
                    if (!(rest > rounding * at(i, i))) {
                        return std::nullopt;
                    }
                    lower.at(i, i) = std::sqrt(rest);
                } else {
                    lower.at(i, j) = rest / lower.at(j, j);
                }
            }
            double right = d[i];
            for (std::size_t k = 0; k < i; ++k) {
                right -= lower.at(i, k) * y[k];
            }
            y[i] = right / lower.at(i, i);
            sum += y[i] * y[i];
        }
        return sum;
    }

private:
    [[nodiscard]] double& at(std::size_t i, std::size_t j) { return cells_[i * size_ + j]; }
    [[nodiscard]] double at(std::size_t i, std::size_t j) const { return cells_[i * size_ + j]; }

    std::size_t size_;
    std::vector<double> cells_;
};

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
    Scatter scatter(centre.size());
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
    Scatter scatter(size);
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
