#include "dsp/pooled_onset.hpp"

#include "dsp/onset_pick.hpp"
#include "dsp/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

namespace {

/// One tap, whitened, and where its shared sound is believed to begin.
struct Laid {
    std::vector<float> white; ///< `quiet` samples before the first onset, `after` beyond it
    double own = 0.0;         ///< its own onset, in `white`
    double at = 0.0;          ///< where the others would have it
    double likeness = 0.0;
    double noise_power = 0.0; ///< of its quiet
    std::size_t begin = 0;    ///< of `white` in the tap's samples
};

struct Lengths {
    std::ptrdiff_t before; ///< of the stretch that is compared
    std::ptrdiff_t after;
    std::ptrdiff_t farthest;
    std::ptrdiff_t search;
    std::ptrdiff_t quiet; ///< kept before the onset
    [[nodiscard]] std::size_t compared() const { return static_cast<std::size_t>(before + after); }
};

Lengths lengths_of(const PooledOnsetSettings& settings, SampleRate rate) {
    const auto samples = [&](double ms) -> std::ptrdiff_t { return std::lround(1e-3 * ms * rate.hz()); };
    return {.before = samples(settings.before_ms),
            .after = samples(settings.after_ms),
            .farthest = samples(settings.farthest_ms),
            .search = samples(settings.search_ms),
            .quiet = samples(6.0)};
}

std::optional<NoiseModel> noise_before(std::span<const TapSound> taps, const Lengths& length, std::size_t order) {
    std::vector<std::span<const float>> stretches;
    for (const TapSound& tap : taps) {
        const auto until = static_cast<std::ptrdiff_t>(tap.onset.samples()) - length.search;
        if (until > static_cast<std::ptrdiff_t>(2 * order)) {
            stretches.push_back(tap.samples.first(static_cast<std::size_t>(until)));
        }
    }
    return model_noise(stretches, order);
}

// Nothing when too little of the sound is there.
std::optional<Laid> lay(const TapSound& tap, const NoiseModel& noise, const Lengths& length) {
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
    Laid laid{.white = {e.begin() + order, e.end()}, .begin = static_cast<std::size_t>(begin)};
    laid.own = tap.onset.samples() - static_cast<double>(begin);
    laid.at = laid.own;
    for (std::ptrdiff_t n = 0; n < length.quiet - length.search; ++n) {
        const auto x = static_cast<double>(laid.white[static_cast<std::size_t>(n)]);
        laid.noise_power += x * x / static_cast<double>(length.quiet - length.search);
    }
    return laid;
}

std::span<const float> compared_stretch(const Laid& tap, std::ptrdiff_t shift, const Lengths& length) {
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
std::vector<std::vector<float>> stretches_of(std::span<const Laid> taps, const Lengths& length,
                                             std::span<const float> window) {
    std::vector<std::vector<float>> stretches;
    for (const Laid& tap : taps) {
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
void move_to(Laid& tap, std::span<const float> others, const Lengths& length) {
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

void lay_over_each_other(std::span<Laid> taps, const Lengths& length) {
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
        for (Laid& tap : taps) {
            tap.at -= common;
        }
    }
}

// How far after the places of the taps their shared sound begins; in samples, may be negative.
std::optional<double> shared_onset(std::span<const Laid> taps, const Lengths& length, double least_likeness,
                                   double range_db, SampleRate rate) {
    std::vector<float> plain(length.compared(), 0.0F);
    for (const Laid& tap : taps) {
        std::ranges::transform(plain, compared_stretch(tap, 0, length), plain.begin(), std::plus<>());
    }
    const auto place = static_cast<double>(length.quiet - 2 * length.farthest);
    const auto needed = static_cast<std::size_t>(length.quiet + length.after);
    std::vector<float> sum(needed, 0.0F);
    for (const Laid& tap : taps) {
        const double weight = product(compared_stretch(tap, 0, length), plain) / std::max(tap.noise_power, 1e-30);
        if (tap.likeness < least_likeness || weight <= 0.0) {
            continue;
        }
        // To the nearest sample: interpolating would ring ahead of the onset.
        const auto from = static_cast<std::size_t>(std::lround(tap.at - place));
        for (std::size_t n = 0; n < needed; ++n) {
            sum[n] += static_cast<float>(weight) * tap.white[from + n];
        }
    }
    const auto search = static_cast<std::size_t>(place) - static_cast<std::size_t>(length.search);
    // It is white already; what precedes the search says how loud it is.
    const std::array quiet{std::span<const float>(sum).first(search)};
    std::optional<NoiseModel> noise = model_noise(quiet, 0);
    if (!noise) {
        return std::nullopt;
    }
    // Anti-alias filters ring ahead of an onset, and more taps lift that out of the noise as well.
    const auto loud = std::ranges::max(sum, {}, [](float x) { return std::abs(x); });
    const double least = std::abs(static_cast<double>(loud)) * std::pow(10.0, -range_db / 20.0);
    noise->residual = std::max(noise->residual, least);
    const auto onset = pick_onset(sum, search, static_cast<std::size_t>(place), *noise, rate);
    // It picks the first sample that has sound in it; the sound began between that one and the one before.
    return onset ? std::optional(*onset - 0.5 - place) : std::nullopt;
}

} // namespace

std::vector<std::optional<Position>> pooled_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                   const PooledOnsetSettings& settings) {
    std::vector<std::optional<Position>> onsets(taps.size());
    const Lengths length = lengths_of(settings, rate);
    const std::optional<NoiseModel> noise = noise_before(taps, length, settings.whitening_order);
    if (!noise || taps.size() < settings.fewest_taps) {
        return onsets;
    }
    std::vector<Laid> laid;
    std::vector<std::size_t> number;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        if (auto one = lay(taps[i], *noise, length)) {
            laid.push_back(std::move(*one));
            number.push_back(i);
        }
    }
    if (laid.size() < settings.fewest_taps) {
        return onsets;
    }
    lay_over_each_other(laid, length);
    const auto alike =
        std::ranges::count_if(laid, [&](const Laid& t) { return t.likeness >= settings.least_likeness; });
    if (static_cast<std::size_t>(alike) < settings.fewest_taps) {
        return onsets;
    }
    const std::optional<double> shared = shared_onset(laid, length, settings.least_likeness, settings.range_db, rate);
    for (std::size_t i = 0; shared && i < laid.size(); ++i) {
        const double moved = laid[i].at + *shared;
        if (laid[i].likeness >= settings.least_likeness &&
            std::abs(moved - laid[i].own) < static_cast<double>(length.farthest)) {
            onsets[number[i]] = Position(static_cast<double>(laid[i].begin) + moved);
        }
    }
    return onsets;
}

} // namespace retap::dsp
