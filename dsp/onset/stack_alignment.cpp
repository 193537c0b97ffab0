#include "dsp/onset/stack_alignment.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

namespace {

// The rise and fall of a Hann window at the ends, so that the edges of the stretch carry no weight.
std::vector<float> taper(std::size_t length) {
    std::vector<float> window(length, 1.0F);
    const std::size_t in = length / 10;
    const std::size_t out = length / 4;
    const auto hann = [](std::size_t n, std::size_t of) {
        return static_cast<float>(
            0.5 - 0.5 * std::cos(3.14159265358979 * (static_cast<double>(n) + 0.5) / static_cast<double>(of)));
    };
    for (std::size_t n = 0; n < in; ++n) {
        window[n] = hann(n, in);
    }
    for (std::size_t n = 0; n < out; ++n) {
        window[length - 1 - n] = hann(n, out);
    }
    return window;
}

// Each stretch to unit energy, so that loud taps do not outvote the others.
std::vector<std::vector<float>> stretches_of(std::span<const StackedTap> taps, const StackLengths& length,
                                             std::span<const float> window) {
    std::vector<std::vector<float>> stretches;
    for (const StackedTap& tap : taps) {
        const auto part = compared_stretch(tap, 0, length);
        const auto norm = static_cast<float>(std::sqrt(std::max(product(part, part), 1e-30)));
        std::vector<float> stretch(part.begin(), part.end());
        for (std::size_t n = 0; n < stretch.size(); ++n) {
            stretch[n] *= window[n] / norm;
        }
        stretches.push_back(std::move(stretch));
    }
    return stretches;
}

// Moves a tap to where it is most like `others`.
void move_to(StackedTap& tap, std::span<const float> others, const StackLengths& length) {
    std::vector<double> value;
    for (std::ptrdiff_t lag = -length.farthest; lag <= length.farthest; ++lag) {
        value.push_back(product(compared_stretch(tap, lag, length), others));
    }
    const auto best = std::ranges::max_element(value) - value.begin();
    const auto part = compared_stretch(tap, best - length.farthest, length);
    const auto i = static_cast<std::size_t>(best);
    tap.likeness = value[i] / std::sqrt(std::max(product(part, part) * product(others, others), 1e-30));
    double fraction = 0.0;
    if (i > 0 && i + 1 < value.size()) {
        const double bend = value[i - 1] - 2.0 * value[i] + value[i + 1];
        fraction = bend < 0.0 ? 0.5 * (value[i - 1] - value[i + 1]) / bend : 0.0;
    }
    const double at = std::round(tap.at) + static_cast<double>(best - length.farthest) + fraction;
    const auto reach = static_cast<double>(length.farthest);
    tap.at = std::clamp(at, tap.own - reach, tap.own + reach);
}

} // namespace

std::span<const float> compared_stretch(const StackedTap& tap, std::ptrdiff_t shift, const StackLengths& length) {
    const std::ptrdiff_t first = std::lround(tap.at) - length.before + shift;
    return std::span<const float>(tap.white).subspan(static_cast<std::size_t>(first), length.compared());
}

double product(std::span<const float> a, std::span<const float> b) {
    float sum = 0.0F;
    for (std::size_t n = 0; n < a.size(); ++n) {
        sum += a[n] * b[n];
    }
    return static_cast<double>(sum);
}

std::optional<StackedTap> lay(const TapSound& tap, const NoiseModel& noise, const StackLengths& length) {
    const auto order = static_cast<std::ptrdiff_t>(noise.prediction.size());
    const auto onset = static_cast<std::ptrdiff_t>(tap.onset.samples());
    const std::ptrdiff_t begin = onset - length.quiet;
    const std::ptrdiff_t end = onset + length.after + 2 * length.farthest + length.search;
    if (begin < order || end > static_cast<std::ptrdiff_t>(tap.samples.size())) {
        return std::nullopt;
    }
    const auto from = static_cast<std::size_t>(begin - order);
    const std::vector<double> e =
        residual_over_noise(tap.samples.subspan(from, static_cast<std::size_t>(end) - from), noise);
    StackedTap laid{.white = {e.begin() + order, e.end()}, .begin = static_cast<std::size_t>(begin)};
    laid.own = tap.onset.samples() - static_cast<double>(begin);
    laid.at = laid.own;
    for (std::ptrdiff_t n = 0; n < length.quiet - length.search; ++n) {
        const auto x = static_cast<double>(laid.white[static_cast<std::size_t>(n)]);
        laid.noise_power += x * x / static_cast<double>(length.quiet - length.search);
    }
    return laid;
}

void align_stack(std::span<StackedTap> taps, const StackLengths& length) {
    constexpr int rounds = 3; // the picks lie within the lags sought; the second round hardly moves a tap
    const std::vector<float> window = taper(length.compared());
    for (int round = 0; round < rounds; ++round) {
        const auto stretches = stretches_of(taps, length, window);
        std::vector<float> sum(length.compared(), 0.0F);
        for (const auto& stretch : stretches) {
            std::ranges::transform(sum, stretch, sum.begin(), std::plus<>());
        }
        std::vector<double> moves;
        for (std::size_t i = 0; i < taps.size(); ++i) {
            std::vector<float> others(sum);
            std::ranges::transform(others, stretches[i], others.begin(), std::minus<>());
            move_to(taps[i], others, length);
            moves.push_back(taps[i].at - taps[i].own);
        }
        const double common = median(moves); // where they all are is the pick's to say
        for (StackedTap& tap : taps) {
            tap.at -= common;
        }
    }
}

} // namespace retap::dsp
