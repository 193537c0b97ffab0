#include "bite/noise.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::bite {

void add_noise(std::span<double> out, double rate_hz, double rms, double pink, Random& random) {
    assert(rate_hz > 0.0 && rms >= 0.0 && pink >= 0.0 && pink <= 1.0);
    // Low-passes with corners a factor 4 apart, each with half the gain of the one below and driven by noise of its
    // own: their powers add up to a staircase whose steps the slow slopes of the filters smooth into 1 / f.
    constexpr std::size_t stages = 6;
    std::array<double, stages> keep{};
    std::array<double, stages> drive{};
    std::array<double, stages> state{};
    double power = 0.0;
    for (std::size_t k = 0; k < stages; ++k) {
        const double corner = std::min(20.0 * std::pow(4.0, static_cast<double>(k)), 0.45 * rate_hz);
        keep[k] = std::exp(-2.0 * std::numbers::pi * corner / rate_hz);
        drive[k] = std::pow(0.5, static_cast<double>(k)) * (1.0 - keep[k]);
        power += drive[k] * drive[k] / (1.0 - keep[k] * keep[k]);
    }
    const double pink_gain = rms * std::sqrt(pink / power);
    const double white_gain = rms * std::sqrt(1.0 - pink);
    for (double& sample : out) {
        double sum = 0.0;
        if (pink > 0.0) {
            for (std::size_t k = 0; k < stages; ++k) {
                state[k] = keep[k] * state[k] + drive[k] * random.normal(0.0, 1.0);
                sum += state[k];
            }
        }
        sample += pink_gain * sum + white_gain * random.normal(0.0, 1.0);
    }
}

} // namespace retap::bite
