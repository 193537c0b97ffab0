#include "dsp/measure/impact.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/base/window.hpp"
#include "dsp/measure/decay.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

namespace {

double energy(std::span<const float> samples) {
    double sum = 0.0;
    for (const float v : samples) {
        sum += static_cast<double>(v) * static_cast<double>(v);
    }
    return sum;
}

double magnitude(std::span<const float> x, std::size_t i) {
    return std::abs(static_cast<double>(x[i]));
}

// Where the waveform passes `threshold` between sample `inside`, which reaches it, and its neighbour `outside`: the
// part of the step that lies outside, 0..1. The neighbour may have the other sign.
double step_outside(std::span<const float> x, std::size_t inside, std::size_t outside, double threshold) {
    const double sign = x[inside] < 0.0F ? -1.0 : 1.0;
    const double high = sign * static_cast<double>(x[inside]);
    const double low = sign * static_cast<double>(x[outside]);
    return (high - threshold) / (high - low);
}

// Top of the parabola through the peak sample and its neighbours, in samples from the peak: -1/2..1/2.
double peak_offset(std::span<const float> x, std::size_t peak) {
    if (peak == 0 || peak + 1 >= x.size()) {
        return 0.0;
    }
    const auto before = static_cast<double>(x[peak - 1]);
    const auto at = static_cast<double>(x[peak]);
    const auto after = static_cast<double>(x[peak + 1]);
    const double curvature = before - 2.0 * at + after;
    const double offset = curvature == 0.0 ? 0.0 : 0.5 * (before - after) / curvature;
    return std::clamp(offset, -0.5, 0.5);
}

std::size_t peak_index(std::span<const float> x) {
    const auto louder = [](float a, float b) { return std::abs(a) < std::abs(b); };
    return static_cast<std::size_t>(std::ranges::max_element(x, louder) - x.begin());
}

struct HitTiming {
    Length rise;
    Length duration;
};

// `x` reaches the threshold at its peak (the caller has seen to that).
HitTiming time_hit(std::span<const float> x, std::size_t peak, double threshold, Length hit_definition) {
    std::size_t first = 0;
    while (magnitude(x, first) < threshold) {
        ++first;
    }
    std::size_t last = first;
    for (std::size_t i = first; i < x.size() && static_cast<double>(i - last) <= hit_definition.samples(); ++i) {
        if (magnitude(x, i) >= threshold) {
            last = i;
        }
    }
    const double start = static_cast<double>(first) - (first > 0 ? step_outside(x, first, first - 1, threshold) : 0.0);
    const double end =
        static_cast<double>(last) + (last + 1 < x.size() ? step_outside(x, last, last + 1, threshold) : 0.0);
    const double top = static_cast<double>(peak) + peak_offset(x, peak);
    return {.rise = Length(std::max(0.0, top - start)), .duration = Length(end - start)};
}

// Energy-weighted mean frequency of the bins between the edges of the bands.
double centroid_hz(std::span<const double> bins, double spacing_hz, std::span<const FrequencyBand> bands) {
    double moment = 0.0;
    double sum = 0.0;
    for (std::size_t k = 0; k < bins.size(); ++k) {
        const double hz = static_cast<double>(k) * spacing_hz;
        if (hz >= bands.front().lower.hz() && hz <= bands.back().upper.hz()) {
            moment += hz * bins[k];
            sum += bins[k];
        }
    }
    return sum > 0.0 ? moment / sum : 0.0;
}

std::size_t whole(Length length) {
    return static_cast<std::size_t>(std::max(0.0, std::floor(length.samples())));
}

} // namespace

ImpactMeter::ImpactMeter(SampleRate rate, const ImpactSettings& settings)
    : rate_(rate), settings_(settings), bands_(third_octave_bands(settings.lowest_band, settings.highest_band)),
      fft_(fast_fft_size(whole(Length::from_ms(settings.lead_ms + settings.longest_ms, rate)) + 2)) {
    assert(!bands_.empty());
}

std::optional<ImpactMeasures> ImpactMeter::measure(std::span<const float> excerpt, Position onset, Level noise,
                                                   std::optional<Position> next_onset) {
    assert(onset.samples() >= 0.0 && onset.samples() < static_cast<double>(excerpt.size()));
    Position to = onset + Length::from_ms(settings_.longest_ms, rate_);
    if (next_onset) {
        to = std::min(to, *next_onset - Length::from_ms(settings_.guard_ms, rate_));
    }
    const auto quiet = quiet_before(excerpt, onset, Length::from_ms(settings_.lead_ms, rate_));
    const std::size_t begin = quiet.size();
    const std::size_t end = std::min(excerpt.size(), whole(to - Position(0.0)));
    if (end < begin + 2) {
        return std::nullopt;
    }

    const auto offset = static_cast<float>(mean(quiet));
    std::vector<float> hit(excerpt.begin() + static_cast<std::ptrdiff_t>(begin),
                           excerpt.begin() + static_cast<std::ptrdiff_t>(end));
    std::ranges::transform(hit, hit.begin(), [offset](float v) { return v - offset; });
    noise = std::max(noise, Level::from_power(mean_square(quiet, static_cast<double>(offset))));

    const std::size_t peak = peak_index(hit);
    const Level peak_level = Level::from_amplitude(magnitude(hit, peak));
    const Level threshold = std::max(peak_level + settings_.threshold, noise + settings_.clear_of_noise);
    if (threshold > peak_level || hit[peak] == 0.0F) {
        return std::nullopt;
    }
    const HitTiming timing =
        time_hit(hit, peak, threshold.amplitude(), Length::from_ms(settings_.hit_definition_ms, rate_));

    ImpactMeasures result;
    result.rise_ms = timing.rise.ms(rate_);
    result.duration_ms = timing.duration.ms(rate_);
    result.peak_dbfs = peak_level.db();
    result.threshold_db = (threshold - peak_level).db();
    const double raw = energy(hit);
    // never below a hundredth: an unlucky noise figure must not turn a tap that was seen into nothing
    result.energy_db =
        Level::from_power(std::max(0.01 * raw, raw - noise.power() * static_cast<double>(hit.size()))).db();
    const std::size_t lead = std::min(hit.size(), static_cast<std::size_t>(onset.samples()) - begin);
    const auto decay = decay_time(std::span<const float>(hit).subspan(lead), noise, early_decay);
    if (decay) {
        result.decay_ms = decay->ms(rate_);
    }

    fade_in(std::span<float>(hit).first(lead));
    fade_out(std::span<float>(hit).last(std::min(hit.size(), whole(Length::from_ms(settings_.fade_out_ms, rate_)))));
    const std::vector<double> bins = bin_energies(fft_.forward(hit));
    const Frequency spacing(rate_.hz() / static_cast<double>(fft_.size()));
    result.centroid_hz = centroid_hz(bins, spacing.hz(), bands_);
    for (const double band : band_energies(bins, spacing, bands_)) {
        result.bands_db.push_back(Level::from_power(band).db());
    }
    return result;
}

} // namespace retap::dsp
