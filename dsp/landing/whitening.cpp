#include "dsp/landing/whitening.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/whole_samples.hpp"
#include "dsp/filters/fft.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numbers>

namespace retap::dsp {
namespace {

/// Mean over nearby bins: the noise of a few taps is known to a few decibels a bin, and is smooth.
std::vector<double> smoothed(const std::vector<double>& power) {
    constexpr std::size_t reach = 8; // bins to each side, 190 Hz
    std::vector<double> out(power.size());
    for (std::size_t k = 0; k < power.size(); ++k) {
        const std::size_t first = k > reach ? k - reach : 0;
        const std::size_t last = std::min(power.size() - 1, k + reach);
        double sum = 0.0;
        for (std::size_t i = first; i <= last; ++i) {
            sum += power[i];
        }
        out[k] = sum / static_cast<double>(last - first + 1);
    }
    return out;
}

std::vector<float> straight_fades(std::size_t length, std::size_t in, std::size_t out) {
    std::vector<float> taper(length, 1.0F);
    for (std::size_t i = 0; i < in; ++i) {
        taper[i] = static_cast<float>(i) / static_cast<float>(in);
    }
    for (std::size_t i = 0; i < out; ++i) {
        taper[length - 1 - i] = static_cast<float>(i) / static_cast<float>(out);
    }
    return taper;
}

/// Cuts taps and the quiet before them out of their sounds and transforms them, at one scale.
class Cutter {
public:
    Cutter(SampleRate rate, std::size_t fft_size, const LandingSettings& settings)
        : before_(whole_samples(settings.before_ms, rate)), guard_(Length::from_ms(settings.guard_ms, rate)),
          taper_(straight_fades(whitened_samples(rate, settings), whole_samples(settings.fade_in_ms, rate),
                                whole_samples(settings.fade_out_ms, rate))),
          fft_(fft_size) {
        for (const float w : taper_) {
            taper_energy_ += static_cast<double>(w) * static_cast<double>(w);
        }
    }

    [[nodiscard]] WhiteSpectrum spectrum(const TapSound& tap) {
        std::vector<float> part(taper_.size(), 0.0F);
        const std::ptrdiff_t begin = std::lround(tap.onset.samples()) - static_cast<std::ptrdiff_t>(before_);
        for (std::size_t i = 0; i < part.size(); ++i) {
            const std::ptrdiff_t at = begin + static_cast<std::ptrdiff_t>(i);
            if (at >= 0 && at < static_cast<std::ptrdiff_t>(tap.samples.size())) {
                part[i] = tap.samples[static_cast<std::size_t>(at)] * taper_[i];
            }
        }
        return fft_.forward(part);
    }

    /// Adds the noise power of the quiet before `tap`, at the scale of spectrum(); false where there is too little of
    /// it.
    bool add_noise(const TapSound& tap, std::vector<double>& power) {
        const auto before = quiet_before(tap.samples, tap.onset, guard_);
        const std::size_t n = std::min(before.size(), taper_.size());
        if (n < 96) { // 2 ms
            return false;
        }
        std::vector<float> quiet(n);
        double window_energy = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const double w = std::sin(std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n));
            quiet[i] = static_cast<float>(w * w * static_cast<double>(before[i]));
            window_energy += w * w * w * w;
        }
        const WhiteSpectrum heard = fft_.forward(quiet);
        for (std::size_t k = 0; k < heard.size(); ++k) {
            power[k] += static_cast<double>(std::norm(heard[k])) * taper_energy_ / window_energy;
        }
        return true;
    }

private:
    std::size_t before_;
    Length guard_;
    std::vector<float> taper_;
    double taper_energy_ = 0.0;
    RealFft fft_;
};

/// Mean power of the noise of each take.
std::map<std::size_t, std::vector<double>>
noise_of_takes(std::span<const TapSound> taps, std::span<const std::size_t> take, std::size_t bins, Cutter& cutter) {
    std::map<std::size_t, std::vector<double>> noise;
    std::map<std::size_t, std::size_t> heard;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        std::vector<double>& power = noise[take[i]];
        power.resize(bins, 0.0);
        heard[take[i]] += cutter.add_noise(taps[i], power) ? 1U : 0U;
    }
    for (auto& [number, power] : noise) {
        for (double& p : power) {
            p /= static_cast<double>(std::max<std::size_t>(1, heard[number]));
        }
        power = smoothed(power);
    }
    return noise;
}

/// Mean energy of a tap of each take.
std::map<std::size_t, double> levels_of_takes(std::span<const WhiteSpectrum> spectra,
                                              std::span<const std::size_t> take) {
    std::map<std::size_t, double> level;
    for (std::size_t i = 0; i < spectra.size(); ++i) {
        for (const std::complex<float>& bin : spectra[i]) {
            level[take[i]] +=
                static_cast<double>(std::norm(bin)) / static_cast<double>(std::ranges::count(take, take[i]));
        }
    }
    return level;
}

/// For each bin 1 in the band that counts, 0 above it, half a cosine between.
std::vector<double> band_weights(SampleRate rate, std::size_t fft_size, const LandingSettings& settings) {
    std::vector<double> weights(fft_size / 2 + 1);
    for (std::size_t k = 0; k < weights.size(); ++k) {
        const double hz = static_cast<double>(k) * rate.hz() / static_cast<double>(fft_size);
        const double place = (hz - settings.full_to_hz) / (settings.none_from_hz - settings.full_to_hz);
        weights[k] = 0.5 + 0.5 * std::cos(std::numbers::pi * std::clamp(place, 0.0, 1.0));
    }
    return weights;
}

/// Magnitude to 1 where the sound stands over `noise`, which is in parts of `level`, and less elsewhere.
void keep_phase(WhiteSpectrum& spectrum, const std::vector<double>& noise, double level,
                const std::vector<double>& band, const LandingSettings& settings) {
    double strongest = 0.0;
    for (const std::complex<float>& bin : spectrum) {
        strongest = std::max(strongest, static_cast<double>(std::norm(bin)));
    }
    const double leakage = strongest * std::pow(10.0, -settings.deepest_db / 10.0);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        const double power =
            static_cast<double>(std::norm(spectrum[k])) + settings.noise_part * std::max(noise[k] * level, leakage);
        spectrum[k] *= power > 0.0 ? static_cast<float>(band[k] / std::sqrt(power)) : 0.0F;
    }
}

} // namespace

std::size_t whitened_samples(SampleRate rate, const LandingSettings& settings) {
    return whole_samples(settings.before_ms, rate) + whole_samples(settings.after_ms, rate);
}

std::vector<WhiteSpectrum> whitened_taps(std::span<const TapSound> taps, std::span<const std::size_t> take,
                                         SampleRate rate, std::size_t fft_size, const LandingSettings& settings) {
    assert(taps.size() == take.size());
    assert(fft_size >= whitened_samples(rate, settings));
    const std::size_t bins = fft_size / 2 + 1;
    Cutter cutter(rate, fft_size, settings);
    std::vector<WhiteSpectrum> spectra;
    spectra.reserve(taps.size());
    for (const TapSound& tap : taps) {
        spectra.push_back(cutter.spectrum(tap));
    }
    // What is lost in the noise of one take is left out of all: otherwise takes of one bite would differ by their
    // noise. Noise counts relative to the taps, so that gain cancels.
    const std::map<std::size_t, double> level = levels_of_takes(spectra, take);
    std::vector<double> most(bins, 0.0);
    for (const auto& [number, power] : noise_of_takes(taps, take, bins, cutter)) {
        for (std::size_t k = 0; k < bins && level.at(number) > 0.0; ++k) {
            most[k] = std::max(most[k], power[k] / level.at(number));
        }
    }
    const std::vector<double> band = band_weights(rate, fft_size, settings);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        keep_phase(spectra[i], most, level.at(take[i]), band, settings);
    }
    return spectra;
}

} // namespace retap::dsp
