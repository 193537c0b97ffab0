#include "dsp/onset/stacked_onset.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/onset/aic_picker.hpp"
#include "dsp/onset/stack_alignment.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

namespace {

StackLengths lengths_of(const StackedOnsetSettings& settings, SampleRate rate) {
    const auto samples = [&](double ms) -> std::ptrdiff_t { return std::lround(1e-3 * ms * rate.hz()); };
    return {.before = samples(settings.before_ms),
            .after = samples(settings.after_ms),
            .farthest = samples(settings.farthest_ms),
            .search = samples(settings.search_ms),
            .quiet = samples(6.0)};
}

std::optional<NoiseModel> noise_before(std::span<const TapSound> taps, const StackLengths& length, std::size_t order) {
    std::vector<std::span<const float>> stretches;
    for (const TapSound& tap : taps) {
        const auto quiet = quiet_before(tap.samples, tap.onset, Length(static_cast<double>(length.search)));
        if (quiet.size() > 2 * order) {
            stretches.push_back(quiet);
        }
    }
    return model_noise(stretches, order);
}

// After how many samples the sound has gathered so many times the noise's power more than the noise itself; all of them
// where it never does.
double time_to_gather(double times, std::span<const float> sound, double noise) {
    double gathered = 0.0;
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double over = static_cast<double>(sound[n]) / noise;
        const double here = over * over - 1.0;
        if (gathered + here >= times) {
            return static_cast<double>(n) + (times - gathered) / here;
        }
        gathered += here;
    }
    return static_cast<double>(sound.size());
}

// How far after the places of the taps their shared sound begins; in samples, may be negative.
std::optional<double> shared_onset(std::span<const StackedTap> taps, const StackLengths& length,
                                   const StackedOnsetSettings& settings, SampleRate rate) {
    std::vector<float> plain(length.compared(), 0.0F);
    for (const StackedTap& tap : taps) {
        std::ranges::transform(plain, compared_stretch(tap, 0, length), plain.begin(), std::plus<>());
    }
    const auto place = static_cast<double>(length.quiet - 2 * length.farthest);
    const auto needed = static_cast<std::size_t>(length.quiet + length.after);
    std::vector<float> sum(needed, 0.0F);
    for (const StackedTap& tap : taps) {
        const double weight = product(compared_stretch(tap, 0, length), plain) / std::max(tap.noise_power, 1e-30);
        if (tap.likeness < settings.min_likeness || weight <= 0.0) {
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
    const double least = std::abs(static_cast<double>(loud)) * std::pow(10.0, -settings.range_db / 20.0);
    noise->residual = std::max(noise->residual, least);
    const auto onset = aic_pick(sum, search, static_cast<std::size_t>(place), *noise, rate);
    if (!onset) {
        return std::nullopt;
    }
    // It picks the first sample that has sound in it; the sound began between that one and the one before.
    const auto from = std::span<const float>(sum).subspan(static_cast<std::size_t>(*onset));
    const double most = 1e-3 * settings.max_climb_ms * rate.hz();
    return *onset - 0.5 - std::min(most, time_to_gather(settings.climbed, from, noise->residual)) - place;
}

} // namespace

std::vector<std::optional<Position>> stacked_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                    const StackedOnsetSettings& settings) {
    std::vector<std::optional<Position>> onsets(taps.size());
    const StackLengths length = lengths_of(settings, rate);
    const std::optional<NoiseModel> noise = noise_before(taps, length, settings.whitening_order);
    if (!noise || taps.size() < settings.fewest_taps) {
        return onsets;
    }
    std::vector<StackedTap> laid;
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
    align_stack(laid, length);
    const auto alike =
        std::ranges::count_if(laid, [&](const StackedTap& t) { return t.likeness >= settings.min_likeness; });
    if (static_cast<std::size_t>(alike) < settings.fewest_taps) {
        return onsets;
    }
    const std::optional<double> shared = shared_onset(laid, length, settings, rate);
    for (std::size_t i = 0; shared && i < laid.size(); ++i) {
        const double moved = laid[i].at + *shared;
        if (laid[i].likeness >= settings.min_likeness &&
            std::abs(moved - laid[i].own) < static_cast<double>(length.farthest)) {
            onsets[number[i]] = Position(static_cast<double>(laid[i].begin) + moved);
        }
    }
    return onsets;
}

} // namespace retap::dsp
