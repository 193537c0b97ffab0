#include "dsp/find/band_time_pattern.hpp"

#include "dsp/base/statistics.hpp"
#include "dsp/filters/octave_bank.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace retap::dsp {

namespace {
constexpr std::array<double, BandTimePattern::slices + 1> edges_ms{-4.0, 6.7, 21.3, 60.0};
constexpr double deepest = 0.00316; // 25 dB below the strongest cell
constexpr double min_power = 1e-30;
constexpr double usual_scatter_db = 3.0; // of a cell from tap to tap; the noise matters when it adds to this
constexpr double max_difference_db = 20.0;

double square(double x) {
    return x * x;
}
} // namespace

BandTimePattern measure_pattern(const FrameHistory& history, std::span<const double> floor, std::int64_t main,
                                double frames_per_second) {
    std::array<double, BandTimePattern::cells> power{};
    std::array<double, BandTimePattern::cells> uncertainty{};
    const std::size_t octaves = std::min(BandTimePattern::max_octaves, history.bands() - 1);
    for (std::size_t s = 0; s < BandTimePattern::slices; ++s) {
        const auto edge = [&](std::size_t k) -> std::int64_t {
            return main + std::llround(1e-3 * edges_ms.at(k) * frames_per_second);
        };
        const std::int64_t from = std::max(edge(s), history.begin());
        const std::int64_t to = std::min(edge(s + 1), history.end());
        for (std::size_t b = 1; b <= octaves && from < to; ++b) {
            const std::size_t cell = s * BandTimePattern::max_octaves + b - 1;
            const auto frames = static_cast<double>(to - from);
            double sum = 0.0;
            for (std::int64_t f = from; f < to; ++f) {
                sum += history[f][b];
            }
            const double squares =
                frames * std::ldexp(0.5, static_cast<int>(b) -
                                             static_cast<int>(slow_octaves)); // independent samples of the band
            power.at(cell) = std::max(0.0, sum / frames - floor[b]);
            uncertainty.at(cell) = floor[b] * std::sqrt(2.0 / squares);
        }
    }
    const double top = *std::max_element(power.begin(), power.end());
    BandTimePattern pattern;
    for (std::size_t k = 0; k < BandTimePattern::cells; ++k) {
        const double least = std::max({2.0 * uncertainty.at(k), deepest * top, min_power});
        pattern.heard.at(k) = power.at(k) > least;
        pattern.level_db.at(k) = 10.0 * std::log10(std::max(power.at(k), least));
        pattern.doubt_db.at(k) =
            10.0 / std::log(10.0) * uncertainty.at(k) / std::max({power.at(k), uncertainty.at(k), min_power});
    }
    return pattern;
}

BandTimePattern median_pattern(std::span<const BandTimePattern* const> patterns) {
    assert(!patterns.empty());
    BandTimePattern result;
    std::vector<double> values(patterns.size());
    const auto count = static_cast<double>(patterns.size());
    for (std::size_t k = 0; k < BandTimePattern::cells; ++k) {
        std::ranges::transform(patterns, values.begin(), [&](const BandTimePattern* i) { return i->level_db.at(k); });
        result.level_db.at(k) = median(values);
        std::ranges::transform(patterns, values.begin(), [&](const BandTimePattern* i) { return i->doubt_db.at(k); });
        result.doubt_db.at(k) = median(values) / std::sqrt(count);
        const auto heard = std::ranges::count_if(patterns, [&](const BandTimePattern* i) { return i->heard.at(k); });
        result.heard.at(k) = 2.0 * static_cast<double>(heard) >= count;
    }
    return result;
}

double pattern_distance(const BandTimePattern& a, const BandTimePattern& b) {
    std::array<double, BandTimePattern::cells> difference{};
    std::array<double, BandTimePattern::cells> weight{};
    double weights = 0.0;
    double sum = 0.0;
    for (std::size_t k = 0; k < BandTimePattern::cells; ++k) {
        if (!a.heard[k] && !b.heard[k]) {
            continue;
        }
        const double doubt = square(a.doubt_db[k]) + square(b.doubt_db[k]);
        weight[k] = 1.0 / (1.0 + doubt / square(usual_scatter_db));
        difference[k] = a.level_db[k] - b.level_db[k];
        weights += weight[k];
        sum += weight[k] * difference[k];
    }
    if (weights <= 0.0) {
        return 0.0;
    }
    double squares = 0.0;
    for (std::size_t k = 0; k < BandTimePattern::cells; ++k) {
        squares += weight[k] * square(std::clamp(difference[k] - sum / weights, -max_difference_db, max_difference_db));
    }
    return std::sqrt(squares / weights);
}

double pattern_spread(const BandTimePattern& pattern) {
    double sum = 0.0;
    double squares = 0.0;
    for (const double level : pattern.level_db) {
        sum += level;
        squares += level * level;
    }
    const auto count = static_cast<double>(BandTimePattern::cells);
    return std::sqrt(std::max(0.0, squares / count - square(sum / count)));
}

} // namespace retap::dsp
