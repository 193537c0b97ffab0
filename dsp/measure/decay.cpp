#include "dsp/measure/decay.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

// Energy of samples i..end less the noise expected in them, for each i.
std::vector<double> remaining_energy(std::span<const float> sound, double noise_power) {
    std::vector<double> remaining(sound.size());
    double sum = 0.0;
    for (std::size_t i = sound.size(); i-- > 0;) {
        const auto v = static_cast<double>(sound[i]);
        sum += v * v - noise_power;
        remaining[i] = sum;
    }
    return remaining;
}

// First sample from which no more than `ratio` of the whole remains; their number when there is none.
std::size_t first_at_or_below(std::span<const double> remaining, Level ratio) {
    const double energy = ratio.power() * remaining.front();
    const auto found = std::ranges::find_if(remaining, [energy](double left) { return left <= energy; });
    return static_cast<std::size_t>(found - remaining.begin());
}

// dB per sample of the least-squares line through the levels of these energies.
double slope_db(std::span<const double> energies) {
    const double middle = 0.5 * (static_cast<double>(energies.size()) - 1.0);
    double numerator = 0.0;
    double denominator = 0.0;
    for (std::size_t i = 0; i < energies.size(); ++i) {
        const double x = static_cast<double>(i) - middle;
        numerator += x * 10.0 * std::log10(energies[i]);
        denominator += x * x;
    }
    return numerator / denominator;
}

} // namespace

std::vector<double> decay_curve_db(std::span<const float> sound, Level noise) {
    const std::vector<double> remaining = remaining_energy(sound, noise.power());
    std::vector<double> curve;
    if (remaining.empty() || remaining.front() <= 0.0) {
        return curve;
    }
    for (const double energy : remaining) {
        if (energy <= 0.0) {
            break;
        }
        curve.push_back(10.0 * std::log10(energy / remaining.front()));
    }
    return curve;
}

std::optional<Length> decay_time(std::span<const float> sound, Level noise, DecayRange range) {
    assert(range.to < range.from);
    const std::vector<double> remaining = remaining_energy(sound, noise.power());
    if (remaining.empty() || remaining.front() <= 0.0) {
        return std::nullopt;
    }
    const std::size_t first = first_at_or_below(remaining, range.from);
    const std::size_t end = first_at_or_below(remaining, range.to);
    if (end >= remaining.size() || end < first + 2) {
        return std::nullopt;
    }
    // An exponential that reaches `to` at this part of the window is 10 dB further down at the window's end.
    const double reach = range.to.db() / (range.to.db() - 10.0);
    if (static_cast<double>(end) > reach * static_cast<double>(sound.size())) {
        return std::nullopt;
    }
    const double noise_left = noise.power() * static_cast<double>(sound.size() - end);
    if (remaining[end] <= 0.0 || remaining[end] < noise_left) {
        return std::nullopt;
    }
    const double per_sample = slope_db(std::span(remaining).subspan(first, end - first + 1));
    if (!(per_sample < 0.0)) {
        return std::nullopt;
    }
    return Length(-60.0 / per_sample);
}

} // namespace retap::dsp
