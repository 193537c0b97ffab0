#include "dsp/contacts/tap_spectra.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/window.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/filters/linear_prediction.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

namespace retap::dsp {

namespace {

constexpr std::size_t min_quiet = 96;        // samples
constexpr double min_difference = 1e-5;      // in power: taps are never taken for more alike than that
constexpr std::size_t transform_size = 1024; // 21 ms: five time constants of the weighting

// exp(-t / decay) from the beginning: with a kink, taps whose onsets are off by a little would differ in more than
// delay.
std::vector<float> weighting(SampleRate rate, const SpectraSettings& settings) {
    const double lead = std::floor(Length::from_ms(settings.lead_ms, rate).samples());
    const double decay = Length::from_ms(settings.decay_ms, rate).samples();
    std::vector<float> weights(transform_size);
    for (std::size_t n = 0; n < weights.size(); ++n) {
        weights[n] = static_cast<float>(std::exp(-(static_cast<double>(n) - lead) / decay));
    }
    fade_out(std::span(weights).last(static_cast<std::size_t>(Length::from_ms(settings.fade_out_ms, rate).samples())));
    fade_in(std::span(weights).first(static_cast<std::size_t>(lead / 2.0)));
    return weights;
}

double energy_of(std::span<const float> x) {
    return autocorrelation(x, 0)[0];
}

std::vector<double> powers(RealFft& fft, std::span<const float> sound) {
    std::vector<double> out;
    for (const auto& v : fft.forward(sound)) {
        out.push_back(static_cast<double>(std::norm(v)));
    }
    return out;
}

// Adds to `power` what the quiet before the tap would leave in a spectrum of the weighted sound.
void add_noise(std::vector<double>& power, RealFft& fft, std::span<const float> quiet, std::vector<float>& window,
               double scale) {
    quiet = quiet.last(std::min(quiet.size(), transform_size));
    if (window.size() != quiet.size()) { // one for all taps, as a rule
        window = make_window(WindowKind::hann, quiet.size());
    }
    std::vector<float> part(quiet.size());
    std::ranges::transform(quiet, window, part.begin(), std::multiplies<>());
    const std::vector<double> here = powers(fft, part);
    const double each = scale / energy_of(window);
    for (std::size_t k = 0; k < power.size(); ++k) {
        power[k] += here[k] * each;
    }
}

// Mean over some neighbours: the weights follow the spectrum's slope, not its lines.
std::vector<double> smoothed(const std::vector<double>& x) {
    constexpr std::size_t reach = 4;
    std::vector<double> out(x.size());
    for (std::size_t k = 0; k < x.size(); ++k) {
        const std::size_t begin = k - std::min(k, reach);
        const std::size_t end = std::min(k + reach + 1, x.size());
        for (std::size_t j = begin; j < end; ++j) {
            out[k] += x[j] / static_cast<double>(end - begin);
        }
    }
    return out;
}

} // namespace

std::optional<HeardSpectra> hear_spectra(std::span<const TapSound> taps, SampleRate rate,
                                         const SpectraSettings& settings) {
    RealFft fft(transform_size);
    const std::vector<float> weights = weighting(rate, settings);
    const double lead = std::floor(Length::from_ms(settings.lead_ms, rate).samples());
    const Length guard = Length::from_ms(settings.guard_ms, rate);
    std::vector<std::vector<std::complex<float>>> all;
    std::vector<float> window;
    std::vector<double> noise(fft.bins(), 0.0);
    std::vector<double> mean(fft.bins(), 0.0);
    for (const TapSound& tap : taps) {
        const double begin = std::floor(tap.onset.samples()) - lead;
        const auto quiet = quiet_before(tap.samples, Position(begin), guard);
        if (quiet.size() < min_quiet || begin + transform_size > static_cast<double>(tap.samples.size())) {
            return std::nullopt;
        }
        std::vector<float> sound(transform_size);
        std::ranges::transform(tap.samples.subspan(static_cast<std::size_t>(begin), transform_size), weights,
                               sound.begin(), std::multiplies<>());
        const double energy = energy_of(sound);
        if (energy <= 0.0) {
            return std::nullopt;
        }
        std::ranges::transform(sound, sound.begin(), [k = 1.0 / std::sqrt(energy)](float v) {
            return static_cast<float>(k * static_cast<double>(v));
        });
        all.push_back(fft.forward(sound));
        for (std::size_t k = 0; k < mean.size(); ++k) {
            mean[k] += static_cast<double>(std::norm(all.back()[k]));
        }
        add_noise(noise, fft, quiet, window, energy_of(weights) / energy);
    }
    mean = smoothed(mean);
    noise = smoothed(noise);
    const double floor = min_difference * *std::ranges::max_element(mean);
    const double hz = rate.hz() / static_cast<double>(transform_size);
    const auto low = static_cast<std::size_t>(std::ceil(settings.lowest.hz() / hz));
    const auto high = std::min(static_cast<std::size_t>(settings.highest.hz() / hz), mean.size() - 1);
    HeardSpectra heard;
    double squares = 0.0;
    heard.spectra.step_radians = 2e-3 * std::numbers::pi * hz;
    heard.spectra.first_radians = heard.spectra.step_radians * static_cast<double>(low);
    heard.spectra.taps.assign(taps.size(), Spectrum(high - low + 1));
    for (std::size_t k = low; k <= high; ++k) {
        const double power = (mean[k] + settings.noise_part * noise[k] + floor) / static_cast<double>(taps.size());
        for (std::size_t i = 0; i < taps.size(); ++i) {
            heard.spectra.taps[i][k - low] = Complex(all[i][k]) / std::sqrt(power);
        }
        // the shared sound takes one tap's worth of it
        const auto others = static_cast<double>(taps.size() - 1) / static_cast<double>(taps.size());
        const double left = (noise[k] + min_difference * mean[k]) * others / power;
        heard.noise += left;
        squares += left * left;
    }
    heard.chance = heard.noise > 0.0 ? squares / (heard.noise * heard.noise) : 1.0;
    return heard;
}

} // namespace retap::dsp
