#include "validate/rivals.hpp"

#include "compare/profile_difference.hpp"
#include "dsp/base/statistics.hpp"
#include "validate/first_arrival.hpp"
#include "validate/mfcc.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>
#include <span>

namespace retap::validate {

namespace {

constexpr double mfcc_ms = 40.0;         // from the onset
constexpr double tap_before_ms = 3.0;    // of the stretch that is averaged
constexpr double tap_after_ms = 30.0;    //
constexpr double line_up_ms = 1.0;       // how far taps of a take may be shifted onto each other
constexpr double compare_shift_ms = 3.0; // and the averages of two takes

std::size_t count(double ms) {
    return static_cast<std::size_t>(ms * 1e-3 * dsp::analysis_rate_hz);
}

// Correlation of b, delayed by `lag`, with a; not normalised.
double product_at(const std::vector<double>& a, const std::vector<double>& b, std::ptrdiff_t lag) {
    const auto n = static_cast<std::ptrdiff_t>(std::min(a.size(), b.size()));
    double sum = 0.0;
    for (std::ptrdiff_t i = std::max<std::ptrdiff_t>(0, lag); i < std::min(n, n + lag); ++i) {
        sum += a[static_cast<std::size_t>(i)] * b[static_cast<std::size_t>(i - lag)];
    }
    return sum;
}

double energy(const std::vector<double>& samples) {
    return std::inner_product(samples.begin(), samples.end(), samples.begin(), 0.0);
}

struct Match {
    std::ptrdiff_t lag = 0;
    double product = 0.0;
};

Match best_match(const std::vector<double>& a, const std::vector<double>& b, std::size_t shift) {
    const auto reach = static_cast<std::ptrdiff_t>(shift);
    Match best{.lag = 0, .product = product_at(a, b, 0)};
    for (std::ptrdiff_t lag = -reach; lag <= reach; ++lag) {
        const double product = product_at(a, b, lag);
        if (product > best.product) {
            best = {.lag = lag, .product = product};
        }
    }
    return best;
}

std::vector<double> cut_out(const dsp::Excerpt& excerpt) {
    std::vector<double> out(count(tap_before_ms + tap_after_ms), 0.0);
    const auto begin = static_cast<std::ptrdiff_t>(std::lround(excerpt.onset_index)) -
                       static_cast<std::ptrdiff_t>(count(tap_before_ms));
    for (std::size_t i = 0; i < out.size(); ++i) {
        const std::ptrdiff_t from = begin + static_cast<std::ptrdiff_t>(i);
        if (from >= 0 && from < std::ssize(excerpt.samples)) {
            out[i] = static_cast<double>(excerpt.samples[static_cast<std::size_t>(from)]);
        }
    }
    return out;
}

void add_lined_up(std::vector<double>& sum, const std::vector<double>& tap) {
    if (sum.empty()) {
        sum = tap;
        return;
    }
    const std::ptrdiff_t lag = best_match(sum, tap, count(line_up_ms)).lag;
    for (std::ptrdiff_t i = 0; i < std::ssize(sum); ++i) {
        if (i - lag >= 0 && i - lag < std::ssize(tap)) {
            sum[static_cast<std::size_t>(i)] += tap[static_cast<std::size_t>(i - lag)];
        }
    }
}

void add_to(std::vector<double>& sum, std::span<const double> values) {
    sum.resize(values.size(), 0.0);
    std::transform(values.begin(), values.end(), sum.begin(), sum.begin(), std::plus<>());
}

std::array<double, mfcc_count> mfcc_of(const dsp::Excerpt& excerpt) {
    const auto begin = static_cast<std::size_t>(std::max(0.0, std::round(excerpt.onset_index)));
    const std::span<const float> samples(excerpt.samples);
    if (begin >= samples.size()) {
        return {};
    }
    return mfcc(samples.subspan(begin, std::min(count(mfcc_ms), samples.size() - begin)),
                dsp::SampleRate(dsp::analysis_rate_hz));
}

double root_mean_square_difference(const std::vector<double>& a, const std::vector<double>& b) {
    if (a.empty() || a.size() != b.size()) {
        return 0.0;
    }
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        sum += (a[i] - b[i]) * (a[i] - b[i]);
    }
    return std::sqrt(sum / static_cast<double>(a.size()));
}

double distance(const std::optional<double>& a, const std::optional<double>& b) {
    return a && b ? std::abs(*a - *b) : 0.0;
}

std::optional<double> median_of(const std::vector<double>& values) {
    return values.empty() ? std::nullopt : std::optional(dsp::median(values));
}

// Distance of the middle profiles, each number over the scatter of single taps; 0 where a side has fewer than two.
double plain_profile_distance(std::span<const dsp::EnergyProfile> before, std::span<const dsp::EnergyProfile> after) {
    return compare::profile_difference(before, after, {.residual = 0.1, .max_taps = 2}).value_or(0.0);
}

} // namespace

RivalFeatures rival_features(const dsp::TakeAnalysis& take) {
    RivalFeatures features;
    std::vector<double> durations;
    std::vector<double> arrivals;
    double taps = 0.0;
    for (const dsp::Tap& tap : take.taps) {
        if (!tap.usable || tap.excerpt.samples.empty()) {
            continue;
        }
        taps += 1.0;
        add_to(features.mfcc, mfcc_of(tap.excerpt));
        add_to(features.bands_db, tap.bands_db);
        add_lined_up(features.average_tap, cut_out(tap.excerpt));
        durations.push_back(tap.duration_ms);
        if (const auto profile =
                dsp::energy_profile({.samples = tap.excerpt.samples, .onset = dsp::Position(tap.excerpt.onset_index)},
                                    dsp::SampleRate(dsp::analysis_rate_hz))) {
            features.profiles.push_back(*profile);
        }
        if (const auto ms = first_arrival_to_energy_ms(tap.excerpt.samples, dsp::Position(tap.excerpt.onset_index),
                                                       dsp::SampleRate(dsp::analysis_rate_hz))) {
            arrivals.push_back(*ms);
        }
    }
    for (auto* sums : {&features.mfcc, &features.bands_db, &features.average_tap}) {
        std::ranges::for_each(*sums, [taps](double& x) { x /= taps; });
    }
    const double level = std::accumulate(features.bands_db.begin(), features.bands_db.end(), 0.0) /
                         std::max(1.0, static_cast<double>(features.bands_db.size()));
    std::ranges::for_each(features.bands_db, [level](double& db) { db -= level; });
    features.duration_ms = median_of(durations);
    features.first_arrival_ms = median_of(arrivals);
    return features;
}

double peak_correlation(const std::vector<double>& a, const std::vector<double>& b, std::size_t shift) {
    const double size = std::sqrt(energy(a) * energy(b));
    return size > 0.0 ? best_match(a, b, shift).product / size : 0.0;
}

std::array<double, rival_count> rival_distances(const RivalFeatures& before, const RivalFeatures& after) {
    const bool both = !before.average_tap.empty() && !after.average_tap.empty();
    return {root_mean_square_difference(before.mfcc, after.mfcc),
            root_mean_square_difference(before.bands_db, after.bands_db),
            both ? 1.0 - peak_correlation(before.average_tap, after.average_tap, count(compare_shift_ms)) : 0.0,
            distance(before.duration_ms, after.duration_ms),
            distance(before.first_arrival_ms, after.first_arrival_ms),
            plain_profile_distance(before.profiles, after.profiles)};
}

} // namespace retap::validate
