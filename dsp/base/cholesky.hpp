// The Cholesky factor of a symmetric, positive definite matrix, and what is solved through it.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace retap::dsp {

/// L of M = L L', L lower triangular. The factoring is Eigen's.
class Cholesky {
public:
    /// Of the matrix given by rows, size() = `size` * `size` (asserted); only the lower triangle is read. Nothing where
    /// a pivot, the variance that the rows before leave unexplained, is no more than `rounding` of its diagonal
    /// element: the matrix is singular, to rounding, or not positive definite.
    [[nodiscard]] static std::optional<Cholesky> factor(std::span<const double> rows, std::size_t size,
                                                        double rounding = 0.0);

    /// x of M x = `b`, which has `size` values (asserted).
    [[nodiscard]] std::vector<double> solve(std::span<const double> b) const;

    /// `d`' M^-1 `d`: the squared distance in units of the scatter M; `d` has `size` values (asserted).
    [[nodiscard]] double squared_distance(std::span<const double> d) const;

private:
    Cholesky(std::vector<double> lower, std::size_t size) : lower_(std::move(lower)), size_(size) {}

    std::vector<double> lower_; // by rows
    std::size_t size_;
};

} // namespace retap::dsp
