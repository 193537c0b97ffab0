#include "dsp/stream/noise_floor.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::dsp {

namespace {
// The q-quantile of a standard normal, Hastings' rational approximation (Abramowitz & Stegun 26.2.23, error < 4.5e-4;
// from memory).
double normal_quantile(double q) {
    assert(q > 0.0 && q < 1.0);
    const double tail = q < 0.5 ? q : 1.0 - q;
    const double t = std::sqrt(-2.0 * std::log(tail));
    const double z =
        t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308)));
    return q < 0.5 ? -z : z;
}

// The q-quantile of chi-square over its mean (Wilson & Hilferty 1931).
double chi_square_quantile_over_mean(double q, double freedom) {
    const double v = 2.0 / (9.0 * freedom);
    return std::pow(std::max(0.05, 1.0 - v + normal_quantile(q) * std::sqrt(v)), 3.0);
}
} // namespace

NoiseFloor::NoiseFloor(Settings settings, const std::vector<double>& freedom)
    : settings_(settings), history_(freedom.size()), levels_(freedom.size(), 0.0) {
    assert(!freedom.empty() && settings_.window > 0);
    correction_.reserve(freedom.size());
    for (const double f : freedom) {
        correction_.push_back(1.0 / chi_square_quantile_over_mean(settings_.quantile, f));
    }
    for (auto& band : history_) {
        band.reserve(settings_.window);
    }
}

void NoiseFloor::push(std::span<const double> energies) {
    assert(energies.size() == history_.size());
    for (std::size_t b = 0; b < history_.size(); ++b) {
        if (history_[b].size() < settings_.window) {
            history_[b].push_back(energies[b]);
        } else {
            history_[b][next_] = energies[b];
        }
    }
    next_ = (next_ + 1) % settings_.window;
}

void NoiseFloor::update() {
    for (std::size_t b = 0; b < history_.size(); ++b) {
        if (history_[b].empty()) {
            continue;
        }
        const auto rank = static_cast<std::size_t>(settings_.quantile * static_cast<double>(history_[b].size() - 1));
        levels_[b] = correction_[b] * ranked_.find(history_[b], rank, levels_[b] / correction_[b]);
    }
}

} // namespace retap::dsp
