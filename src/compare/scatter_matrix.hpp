// How several measures vary together, and how far apart two points are in that light.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::compare {

/// Symmetric matrix of sums of squares and products.
class ScatterMatrix {
public:
    explicit ScatterMatrix(std::size_t size) : size_(size), cells_(size * size, 0.0) {}

    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] double& at(std::size_t i, std::size_t j) { return cells_[i * size_ + j]; }
    [[nodiscard]] double at(std::size_t i, std::size_t j) const { return cells_[i * size_ + j]; }

    /// Adds the products of the rows' distances from `centre`; all have size() values (asserted).
    void add(std::span<const std::vector<double>> rows, std::span<const double> centre);

    /// d' M^-1 d through the Cholesky factor. Nothing when M is singular to rounding.
    [[nodiscard]] std::optional<double> squared_distance(std::span<const double> d) const;

private:
    std::size_t size_;
    std::vector<double> cells_;
};

} // namespace retap::compare
