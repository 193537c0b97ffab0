#include "validate/first_arrival.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace retap::validate {

namespace {

constexpr double noise_until_ms = 15.0; // before the onset
constexpr double peak_within_ms = 20.0; // after it
constexpr double back_ms = 6.0;
constexpr double clear_of_noise = 3.5;
constexpr std::size_t run = 3;
constexpr double energy_within_ms = 40.0;
constexpr double energy_share = 0.02;
constexpr std::size_t fewest = 8;

// Sums of squares up to each sample, and of the samples themselves.
struct Sums {
    explicit Sums(std::span<const float> samples) : of(samples.size() + 1), of_squares(samples.size() + 1) {
        for (std::size_t i = 0; i < samples.size(); ++i) {
            const auto x = static_cast<double>(samples[i]);
            of[i + 1] = of[i] + x;
            of_squares[i + 1] = of_squares[i] + x * x;
        }
    }
    [[nodiscard]] double variance(std::size_t from, std::size_t to) const {
        const auto n = static_cast<double>(to - from);
        const double mean = (of[to] - of[from]) / n;
        return std::max((of_squares[to] - of_squares[from]) / n - mean * mean, 1e-30);
    }
    std::vector<double> of;
    std::vector<double> of_squares;
};

std::size_t back_to_first_run(std::span<const float> samples, std::size_t from, std::size_t pick, double threshold) {
    for (std::size_t i = from; i + run <= pick; ++i) {
        const auto stretch = samples.subspan(i, run);
        if (std::ranges::all_of(stretch, [&](float x) { return std::abs(static_cast<double>(x)) > threshold; })) {
            return i;
        }
    }
    return pick;
}

} // namespace

std::optional<std::size_t> aic_pick(std::span<const float> samples) {
    if (samples.size() < fewest) {
        return std::nullopt;
    }
    const Sums sums(samples);
    const std::size_t n = samples.size();
    double least = std::numeric_limits<double>::infinity();
    std::size_t pick = 0;
    for (std::size_t k = 2; k + 2 < n; ++k) {
        const double aic = static_cast<double>(k) * std::log(sums.variance(0, k)) +
                           static_cast<double>(n - k - 1) * std::log(sums.variance(k, n));
        if (aic < least) {
            least = aic;
            pick = k;
        }
    }
    return pick;
}

std::optional<double> first_arrival_to_energy_ms(std::span<const float> excerpt, dsp::Position onset,
                                                 dsp::SampleRate rate) {
    const auto count = [&](double ms) { return static_cast<std::size_t>(ms * 1e-3 * rate.hz()); };
    const auto at = static_cast<std::size_t>(std::max(0.0, onset.samples()));
    if (at < count(noise_until_ms) + fewest || at >= excerpt.size()) {
        return std::nullopt;
    }
    const std::size_t begin = at - count(noise_until_ms);
    const double noise = Sums(excerpt.first(begin)).variance(0, begin);
    const auto ahead = excerpt.subspan(begin, std::min(count(noise_until_ms + peak_within_ms), excerpt.size() - begin));
    const auto peak = std::ranges::max_element(ahead, {}, [](float x) { return std::abs(x); });
    const auto to_peak = static_cast<std::size_t>(peak - ahead.begin()) + 1;
    const auto picked = aic_pick(ahead.first(to_peak));
    if (!picked) {
        return std::nullopt;
    }
    const std::size_t earliest = *picked > count(back_ms) ? *picked - count(back_ms) : 0;
    const std::size_t arrival = back_to_first_run(ahead, earliest, *picked, clear_of_noise * std::sqrt(noise));
    const auto sound = excerpt.subspan(begin + arrival);
    const auto heard = sound.first(std::min(sound.size(), count(energy_within_ms)));
    double total = 0.0;
    for (const float x : heard) {
        total += static_cast<double>(x) * static_cast<double>(x) - noise;
    }
    double sum = 0.0;
    for (std::size_t i = 0; i < heard.size() && total > 0.0; ++i) {
        sum += static_cast<double>(heard[i]) * static_cast<double>(heard[i]) - noise;
        if (sum >= energy_share * total) {
            return 1e3 * static_cast<double>(i) / rate.hz();
        }
    }
    return std::nullopt;
}

} // namespace retap::validate
