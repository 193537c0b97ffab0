#include "compare/scatter_matrix.hpp"

#include <cassert>
#include <cmath>

namespace retap::compare {

void ScatterMatrix::add(std::span<const std::vector<double>> rows, std::span<const double> centre) {
    assert(centre.size() == size_);
    std::vector<double> off(size_);
    for (const std::vector<double>& row : rows) {
        assert(row.size() == size_);
        for (std::size_t i = 0; i < size_; ++i) {
            off[i] = row[i] - centre[i];
        }
        for (std::size_t i = 0; i < size_; ++i) {
            for (std::size_t j = 0; j < size_; ++j) {
                at(i, j) += off[i] * off[j];
            }
        }
    }
}

std::optional<double> ScatterMatrix::squared_distance(std::span<const double> d) const {
    assert(d.size() == size_);
    ScatterMatrix lower(size_); // L of M = L L': solve L y = d, then the distance is y'y
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

} // namespace retap::compare
