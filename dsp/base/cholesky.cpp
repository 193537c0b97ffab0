#include "dsp/base/cholesky.hpp"

#include <Eigen/Cholesky>

#include <cassert>

namespace retap::dsp {
namespace {

using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Values = Eigen::Map<const Eigen::VectorXd>;

Eigen::Index index(std::size_t i) {
    return static_cast<Eigen::Index>(i);
}

} // namespace

std::optional<Cholesky> Cholesky::factor(std::span<const double> rows, std::size_t size, double rounding) {
    assert(rows.size() == size * size);
    std::vector<double> lower(rows.begin(), rows.end());
    Eigen::Map<Rows> in_place(lower.data(), index(size), index(size));
    const Eigen::LLT<Eigen::Ref<Rows>> llt(in_place);
    if (llt.info() != Eigen::Success) {
        return std::nullopt;
    }
    for (std::size_t i = 0; i < size; ++i) {
        const double root = lower[i * size + i];
        if (!(root * root > rounding * rows[i * size + i])) { // false for NaN too
            return std::nullopt;
        }
    }
    return Cholesky(std::move(lower), size);
}

std::vector<double> Cholesky::solve(std::span<const double> b) const {
    assert(b.size() == size_);
    const Eigen::Map<const Rows> matrix(lower_.data(), index(size_), index(size_));
    const auto lower = matrix.triangularView<Eigen::Lower>();
    std::vector<double> x(b.begin(), b.end());
    Eigen::Map<Eigen::VectorXd> solution(x.data(), index(size_));
    lower.solveInPlace(solution);
    lower.transpose().solveInPlace(solution);
    return x;
}

double Cholesky::squared_distance(std::span<const double> d) const {
    assert(d.size() == size_);
    const Eigen::Map<const Rows> matrix(lower_.data(), index(size_), index(size_));
    const Eigen::VectorXd y = matrix.triangularView<Eigen::Lower>().solve(Values(d.data(), index(size_)));
    return y.squaredNorm();
}

} // namespace retap::dsp
