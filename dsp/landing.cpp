#include "dsp/landing.hpp"

#include "dsp/fft.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <map>
#include <numbers>

namespace retap::dsp {
namespace {

using Spectrum = std::vector<std::complex<float>>;

std::size_t whole_samples(double ms, SampleRate rate) {
    return static_cast<std::size_t>(std::lround(Length::from_ms(ms, rate).samples()));
}

/// Weights of a Gaussian from its centre outwards to three standard deviations, summing to 1 over both sides.
std::vector<float> bell(double sigma) {
    std::vector<float> side(static_cast<std::size_t>(std::ceil(3.0 * sigma)) + 1);
    double sum = 0.0;
    for (std::size_t i = 0; i < side.size(); ++i) {
        const double z = static_cast<double>(i) / sigma;
        side[i] = static_cast<float>(std::exp(-0.5 * z * z));
        sum += static_cast<double>(side[i]) * (i == 0 ? 1.0 : 2.0);
    }
    for (float& v : side) {
        v = static_cast<float>(static_cast<double>(v) / sum);
    }
    return side;
}

/// Works on one set of taps with the tables it needs.
class Relating {
public:
    Relating(SampleRate rate, const LandingSettings& settings)
        : rate_(rate), settings_(settings), before_(whole_samples(settings.before_ms, rate)),
          length_(before_ + whole_samples(settings.after_ms, rate)),
          share_(static_cast<std::ptrdiff_t>(whole_samples(settings.share_ms, rate))),
          search_(static_cast<std::ptrdiff_t>(whole_samples(settings.search_ms, rate))),
          fft_(fast_fft_size(std::max(length_, static_cast<std::size_t>(4 * share_)))),
          peak_bell_(bell(Length::from_ms(settings.peak_blur_ms, rate).samples())),
          bell_(bell(Length::from_ms(settings.blur_ms, rate).samples())) {
        taper_.assign(length_, 1.0F);
        const std::size_t fade_in = whole_samples(settings.fade_in_ms, rate);
        const std::size_t fade_out = whole_samples(settings.fade_out_ms, rate);
        for (std::size_t i = 0; i < fade_in; ++i) {
            taper_[i] = static_cast<float>(i) / static_cast<float>(fade_in);
        }
        for (std::size_t i = 0; i < fade_out; ++i) {
            taper_[length_ - 1 - i] = static_cast<float>(i) / static_cast<float>(fade_out);
        }
        for (const float w : taper_) {
            taper_energy_ += static_cast<double>(w) * static_cast<double>(w);
        }
    }

    [[nodiscard]] Spectrum spectrum(const TapSound& tap) {
        std::vector<float> part(length_, 0.0F);
        const auto begin =
            static_cast<std::ptrdiff_t>(std::lround(tap.onset.samples())) - static_cast<std::ptrdiff_t>(before_);
        for (std::size_t i = 0; i < length_; ++i) {
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
        const double end = tap.onset.samples() - Length::from_ms(settings_.guard_ms, rate_).samples();
        const auto n = static_cast<std::size_t>(std::clamp(end, 0.0, static_cast<double>(length_)));
        if (n < 96) { // 2 ms
            return false;
        }
        std::vector<float> quiet(n);
        double window_energy = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const double w = std::sin(std::numbers::pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n));
            quiet[i] = static_cast<float>(w * w * static_cast<double>(tap.samples[i]));
            window_energy += w * w * w * w;
        }
        const Spectrum heard = fft_.forward(quiet);
        for (std::size_t k = 0; k < heard.size(); ++k) {
            power[k] += static_cast<double>(std::norm(heard[k])) * taper_energy_ / window_energy;
        }
        return true;
    }

    [[nodiscard]] std::size_t bins() const { return fft_.bins(); }

    /// Magnitude to 1 where the sound stands over the noise, less elsewhere.
    void keep_phase(Spectrum& spectrum, const std::vector<double>& noise) const {
        for (std::size_t k = 0; k < spectrum.size(); ++k) {
            const double power = static_cast<double>(std::norm(spectrum[k])) + settings_.noise_part * noise[k];
            spectrum[k] *= power > 0.0 ? static_cast<float>(1.0 / std::sqrt(power)) : 0.0F;
        }
    }

    /// Fills the rows of `a` against `b` and of `b` against `a`; false, and nothing filled, for two copies of one tap.
    [[nodiscard]] bool relate(const Spectrum& a, const Spectrum& b, std::span<float> ab, std::span<float> ba) {
        product_.resize(a.size());
        double most = 0.0; // what the correlation reaches where all phases agree
        for (std::size_t k = 0; k < a.size(); ++k) {
            product_[k] = a[k] * std::conj(b[k]);
            most += 2.0 * static_cast<double>(std::abs(product_[k])) / static_cast<double>(fft_.size());
        }
        correlation_ = fft_.inverse(product_);
        const std::ptrdiff_t peak = strongest();
        for (std::ptrdiff_t near = peak - 2; near <= peak + 2; ++near) {
            if (std::abs(static_cast<double>(value(near))) >= settings_.same_tap * most) {
                return false;
            }
        }
        double all = 0.0;
        for (std::ptrdiff_t i = -share_; i < share_; ++i) {
            const auto v = static_cast<double>(value(peak + i));
            all += v * v;
        }
        const double per_ms = Length::from_ms(1.0, rate_).samples();
        for (std::size_t i = 0; i < landing_lags_ms.size(); ++i) {
            const auto lag = static_cast<std::ptrdiff_t>(std::lround(landing_lags_ms.at(i) * per_ms));
            ab[i] = density_db(energy(peak + lag), all, per_ms);
            ba[i] = density_db(energy(peak - lag), all, per_ms); // the correlation the other way round runs backwards
        }
        return true;
    }

private:
    [[nodiscard]] float value(std::ptrdiff_t lag) const {
        const auto size = static_cast<std::ptrdiff_t>(correlation_.size());
        return correlation_[static_cast<std::size_t>(((lag % size) + size) % size)];
    }

    [[nodiscard]] std::ptrdiff_t strongest() const {
        std::ptrdiff_t best = 0;
        float highest = -1.0F;
        for (std::ptrdiff_t lag = -search_; lag < search_; ++lag) {
            float sum = peak_bell_[0] * value(lag);
            for (std::size_t i = 1; i < peak_bell_.size(); ++i) {
                const auto step = static_cast<std::ptrdiff_t>(i);
                sum += peak_bell_[i] * (value(lag + step) + value(lag - step));
            }
            if (std::abs(sum) > highest) {
                highest = std::abs(sum);
                best = lag;
            }
        }
        return best;
    }

    [[nodiscard]] double energy(std::ptrdiff_t lag) const {
        const auto square = [this](std::ptrdiff_t at) {
            const auto v = static_cast<double>(value(at));
            return v * v;
        };
        double sum = static_cast<double>(bell_[0]) * square(lag);
        for (std::size_t i = 1; i < bell_.size(); ++i) {
            const auto step = static_cast<std::ptrdiff_t>(i);
            sum += static_cast<double>(bell_[i]) * (square(lag + step) + square(lag - step));
        }
        return sum;
    }

    [[nodiscard]] float density_db(double energy_per_sample, double all, double per_ms) const {
        const double density = all > 0.0 ? energy_per_sample * per_ms / all : 0.0;
        return static_cast<float>(10.0 * std::log10(density + settings_.faintest));
    }

    SampleRate rate_;
    LandingSettings settings_;
    std::size_t before_;
    std::size_t length_;
    std::ptrdiff_t share_;
    std::ptrdiff_t search_;
    RealFft fft_;
    std::vector<float> peak_bell_;
    std::vector<float> bell_;
    std::vector<float> taper_;
    double taper_energy_ = 0.0;
    Spectrum product_;
    std::vector<float> correlation_;
};

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

} // namespace

LandingTable relate_landings(std::span<const TapSound> taps, std::span<const std::size_t> take, SampleRate rate,
                             const LandingSettings& settings) {
    assert(taps.size() == take.size());
    Relating relating(rate, settings);
    struct Noise {
        std::vector<double> power;
        std::size_t taps = 0;
    };
    std::map<std::size_t, Noise> noise;
    std::vector<Spectrum> spectra;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        Noise& here = noise[take[i]];
        here.power.resize(relating.bins(), 0.0);
        here.taps += relating.add_noise(taps[i], here.power) ? 1U : 0U;
        spectra.push_back(relating.spectrum(taps[i]));
    }
    for (auto& [number, here] : noise) {
        for (double& p : here.power) {
            p /= static_cast<double>(std::max<std::size_t>(1, here.taps));
        }
        here.power = smoothed(here.power);
    }
    for (std::size_t i = 0; i < taps.size(); ++i) {
        relating.keep_phase(spectra[i], noise[take[i]].power);
    }
    LandingTable table(taps.size());
    for (std::size_t i = 0; i < taps.size(); ++i) {
        for (std::size_t j = i + 1; j < taps.size(); ++j) {
            if (relating.relate(spectra[i], spectra[j], table.row(i, j), table.row(j, i))) {
                table.set_known(i, j);
                table.set_known(j, i);
            }
        }
    }
    return table;
}

} // namespace retap::dsp
