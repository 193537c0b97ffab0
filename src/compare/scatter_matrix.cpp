#include "compare/scatter_matrix.hpp"

#include "dsp/base/cholesky.hpp"

#include <cassert>

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
    constexpr double rounding = 1e-12; // of the variance there was before the others explained theirs
    const auto factor = dsp::Cholesky::factor(cells_, size_, rounding);
    return factor ? std::optional(factor->squared_distance(d)) : std::nullopt;
}

} // namespace retap::compare
