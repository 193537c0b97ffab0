#include "validate/timing_bound.hpp"

#include "dsp/filters/fft.hpp"
#include "dsp/filters/third_octave.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

namespace retap::validate {

namespace {

constexpr std::size_t unknowns = 4; // first time, second time, first amplitude, second amplitude
using Vector = std::array<double, unknowns>;
using Matrix = std::array<Vector, unknowns>;

// Of the sound s and its derivative s', both delayed by 0 and by the gap.
struct Products {
    double own = 0.0;          // <s, s>
    double own_slope = 0.0;    // <s', s'>
    double across = 0.0;       // <s, s delayed>
    double across_slope = 0.0; // <s', s' delayed>
    double mixed = 0.0;        // <s, s' delayed>
};

Products products_of(std::span<const double> sound, const TwoArrivals& arrivals) {
    const std::vector<float> samples(sound.begin(), sound.end());
    dsp::RealFft fft(dsp::fast_fft_size(2 * samples.size() + 2));
    const std::vector<double> bins = dsp::bin_energies(fft.forward(samples));
    const double spacing_hz = arrivals.rate_hz / static_cast<double>(fft.size());
    Products p;
    for (std::size_t k = 0; k < bins.size() && static_cast<double>(k) * spacing_hz <= arrivals.top_hz; ++k) {
        const double omega = 2.0 * std::numbers::pi * spacing_hz * static_cast<double>(k);
        const double cosine = std::cos(omega * arrivals.gap_s);
        p.own += bins[k];
        p.own_slope += omega * omega * bins[k];
        p.across += bins[k] * cosine;
        p.across_slope += omega * omega * bins[k] * cosine;
        p.mixed += omega * bins[k] * std::sin(omega * arrivals.gap_s);
    }
    return p;
}

// Gaussian elimination with pivots; nothing finite when the matrix is singular.
Vector solve(Matrix a, Vector b) {
    for (std::size_t column = 0; column < unknowns; ++column) {
        std::size_t pivot = column;
        for (std::size_t row = column + 1; row < unknowns; ++row) {
            pivot = std::abs(a.at(row).at(column)) > std::abs(a.at(pivot).at(column)) ? row : pivot;
        }
        std::swap(a.at(column), a.at(pivot));
        std::swap(b.at(column), b.at(pivot));
        for (std::size_t row = column + 1; row < unknowns; ++row) {
            const double factor = a.at(row).at(column) / a.at(column).at(column);
            for (std::size_t k = column; k < unknowns; ++k) {
                a.at(row).at(k) -= factor * a.at(column).at(k);
            }
            b.at(row) -= factor * b.at(column);
        }
    }
    Vector x{};
    for (std::size_t row = unknowns; row-- > 0;) {
        double rest = b.at(row);
        for (std::size_t k = row + 1; k < unknowns; ++k) {
            rest -= a.at(row).at(k) * x.at(k);
        }
        x.at(row) = rest / a.at(row).at(row);
    }
    return x;
}

} // namespace

double gap_bound_s(std::span<const double> sound, const TwoArrivals& arrivals) {
    assert(arrivals.noise > 0.0 && !sound.empty());
    const Products p = products_of(sound, arrivals);
    // In units that make the diagonal one: the seconds of a time and the size of an amplitude differ by many decades.
    const double time_unit = 1.0 / std::sqrt(p.own_slope);
    const double size_unit = 1.0 / std::sqrt(p.own);
    const double mixed = p.mixed * time_unit * size_unit;
    const double across = p.across * size_unit * size_unit;
    const double across_slope = p.across_slope * time_unit * time_unit;
    const double a = arrivals.first;
    const double b = arrivals.second;
    const Matrix fisher{{{a * a, a * b * across_slope, 0.0, a * mixed},
                         {a * b * across_slope, b * b, -b * mixed, 0.0},
                         {0.0, -b * mixed, 1.0, across},
                         {a * mixed, 0.0, across, 1.0}}};
    const Vector x = solve(fisher, {-1.0, 1.0, 0.0, 0.0});
    const double variance = x[1] - x[0];
    return std::isfinite(variance) && variance > 0.0 ? arrivals.noise * time_unit * std::sqrt(variance)
                                                     : std::numeric_limits<double>::infinity();
}

} // namespace retap::validate
