#include "dsp/landing/energy_profile.hpp"

#include "dsp/filters/butterworth.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

namespace retap::dsp {

namespace {

constexpr std::size_t bins = profile_edges_ms.size() - 1;
constexpr std::size_t bands = profile_edges_hz.size() - 1;
constexpr double noise_from_ms = -12.0;
constexpr double noise_to_ms = -4.0;
constexpr double settle_ms = 14.0; // before the onset: what filters start from
constexpr double smallest_share = 0.01;

// Energy between two instants, the samples at both ends by the part of them that lies inside.
double energy_between(std::span<const double> squares, double from, double to) {
    double sum = 0.0;
    for (auto i = static_cast<std::size_t>(std::max(0.0, from)); i < squares.size(); ++i) {
        const auto at = static_cast<double>(i);
        if (at >= to) {
            break;
        }
        sum += squares[i] * (std::min(at + 1.0, to) - std::max(at, from));
    }
    return sum;
}

std::vector<double> band_squares(std::span<const float> excerpt, std::size_t band, SampleRate rate) {
    std::vector<double> samples(excerpt.begin(), excerpt.end());
    Butterworth::high_pass(Frequency(profile_edges_hz.at(band)), rate).apply(samples);
    Butterworth::low_pass(Frequency(profile_edges_hz.at(band + 1)), rate).apply(samples);
    std::ranges::for_each(samples, [](double& x) { x *= x; });
    return samples;
}

} // namespace

std::optional<EnergyProfile> energy_profile(const TapSound& tap, SampleRate rate) {
    const double per_ms = 1e-3 * rate.hz();
    const double at = tap.onset.samples();
    if (at < settle_ms * per_ms || at + profile_edges_ms.back() * per_ms > static_cast<double>(tap.samples.size())) {
        return std::nullopt;
    }
    EnergyProfile profile{};
    for (std::size_t band = 0; band < bands; ++band) {
        const std::vector<double> squares = band_squares(tap.samples, band, rate);
        const double noise = energy_between(squares, at + noise_from_ms * per_ms, at + noise_to_ms * per_ms) /
                             ((noise_to_ms - noise_from_ms) * per_ms);
        std::array<double, bins> energy{};
        for (std::size_t bin = 0; bin < bins; ++bin) {
            const double from = at + profile_edges_ms.at(bin) * per_ms;
            const double to = at + profile_edges_ms.at(bin + 1) * per_ms;
            energy.at(bin) = std::max(0.0, energy_between(squares, from, to) - noise * (to - from));
        }
        const double total = std::max(std::accumulate(energy.begin(), energy.end(), 0.0), 1e-30);
        for (std::size_t bin = 0; bin < bins; ++bin) {
            profile.at(band * bins + bin) = std::log(energy.at(bin) / total + smallest_share);
        }
    }
    return profile;
}

} // namespace retap::dsp
