#include "dsp/landing.hpp"

#include "dsp/fft.hpp"
#include "dsp/robust.hpp"
#include "dsp/whole_samples.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <functional>
#include <map>
#include <numbers>
#include <utility>

namespace retap::dsp {
namespace {

using Spectrum = std::vector<std::complex<float>>;

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

/// The whitened taps with the tables that relating them needs.
class LandingSounds::Relating {
public:
    Relating(SampleRate rate, const LandingSettings& settings)
        : rate_(rate), settings_(settings), before_(whole_samples(settings.before_ms, rate)),
          length_(before_ + whole_samples(settings.after_ms, rate)),
          share_(static_cast<std::ptrdiff_t>(whole_samples(settings.share_ms, rate))),
          search_(static_cast<std::ptrdiff_t>(whole_samples(settings.search_ms, rate))),
          fft_(fast_fft_size(std::max(length_, reach(rate, settings)))),
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
        const std::ptrdiff_t begin = std::lround(tap.onset.samples()) - static_cast<std::ptrdiff_t>(before_);
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

    /// Magnitude to 1 where the sound stands over `noise`, which is in parts of `level`, and less elsewhere.
    void keep_phase(Spectrum& spectrum, const std::vector<double>& noise, double level) const {
        double strongest = 0.0;
        for (const std::complex<float>& bin : spectrum) {
            strongest = std::max(strongest, static_cast<double>(std::norm(bin)));
        }
        const double leakage = strongest * std::pow(10.0, -settings_.deepest_db / 10.0);
        for (std::size_t k = 0; k < spectrum.size(); ++k) {
            const double power = static_cast<double>(std::norm(spectrum[k])) +
                                 settings_.noise_part * std::max(noise[k] * level, leakage);
            spectrum[k] *= power > 0.0 ? static_cast<float>(band(k) / std::sqrt(power)) : 0.0F;
        }
    }

    void prepare(std::span<const TapSound> taps, std::span<const std::size_t> take);

    [[nodiscard]] std::size_t taps() const { return spectra_.size(); }
    [[nodiscard]] LandingTable relate();
    [[nodiscard]] std::vector<double> main_impacts() const;
    [[nodiscard]] LandingTable relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                                 std::span<const float> phase);

private:
    /// Correlation needed to see every lag about any peak that is looked for.
    static std::size_t reach(SampleRate rate, const LandingSettings& settings) {
        const double furthest = std::max(settings.share_ms, std::max(-landing_lags_ms.front(), landing_lags_ms.back()));
        const double blur = 3.0 * std::max(settings.blur_ms, settings.peak_blur_ms);
        return 2 * whole_samples(settings.search_ms + furthest + blur + 0.1, rate);
    }

    /// Correlates two whitened taps into correlation_, of which the middle is lag 0.
    void correlate(const Spectrum& a, const Spectrum& b) {
        product_.resize(a.size());
        for (std::size_t k = 0; k < a.size(); ++k) {
            product_[k] = a[k] * std::conj(b[k]);
        }
        correlation_ = fft_.inverse(product_);
        const auto middle = correlation_.begin() + static_cast<std::ptrdiff_t>(correlation_.size() / 2);
        std::rotate(correlation_.begin(), middle, correlation_.end());
    }

    /// What the correlation would reach if all phases agreed.
    [[nodiscard]] double most() const {
        double sum = 0.0;
        for (const std::complex<float>& p : product_) {
            sum += 2.0 * std::sqrt(static_cast<double>(std::norm(p))) / static_cast<double>(fft_.size());
        }
        return sum;
    }

    [[nodiscard]] float value(std::ptrdiff_t lag) const {
        return correlation_[static_cast<std::size_t>(lag + static_cast<std::ptrdiff_t>(correlation_.size() / 2))];
    }

    /// The correlation's magnitude, smoothed.
    [[nodiscard]] float smooth(std::ptrdiff_t lag) const {
        float sum = peak_bell_[0] * value(lag);
        for (std::size_t i = 1; i < peak_bell_.size(); ++i) {
            const auto step = static_cast<std::ptrdiff_t>(i);
            sum += peak_bell_[i] * (value(lag + step) + value(lag - step));
        }
        return std::abs(sum);
    }

    /// Lag of the strongest peak from `first` to before `end`.
    [[nodiscard]] std::ptrdiff_t strongest(std::ptrdiff_t first, std::ptrdiff_t end) const {
        std::ptrdiff_t best = first;
        float highest = -1.0F;
        for (std::ptrdiff_t lag = first; lag < end; ++lag) {
            const float here = smooth(lag);
            if (here > highest) {
                highest = here;
                best = lag;
            }
        }
        return best;
    }

    /// Where between samples the peak at `lag` lies, by a parabola through it and its neighbours; smoothed as it is,
    /// that is good to a few hundredths of a sample.
    [[nodiscard]] double between_samples(std::ptrdiff_t lag) const {
        const auto left = static_cast<double>(smooth(lag - 1));
        const auto peak = static_cast<double>(smooth(lag));
        const auto right = static_cast<double>(smooth(lag + 1));
        const double bend = left - 2.0 * peak + right;
        return static_cast<double>(lag) + (bend < 0.0 ? std::clamp(0.5 * (left - right) / bend, -0.5, 0.5) : 0.0);
    }

    /// Fills the rows of the one tap against the other and the other way round from the correlation about its peak.
    void read(std::ptrdiff_t peak, std::span<float> ab, std::span<float> ba) {
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

    /// 1 in the band that counts, 0 above it, half a cosine between.
    [[nodiscard]] double band(std::size_t bin) const {
        const double hz = static_cast<double>(bin) * rate_.hz() / static_cast<double>(fft_.size());
        const double place = (hz - settings_.full_to_hz) / (settings_.none_from_hz - settings_.full_to_hz);
        return 0.5 + 0.5 * std::cos(std::numbers::pi * std::clamp(place, 0.0, 1.0));
    }

    [[nodiscard]] float density_db(double energy_per_sample, double all, double per_ms) const {
        const double density = all > 0.0 ? energy_per_sample * per_ms / all : 0.0;
        return static_cast<float>(10.0 * std::log10(density + settings_.chance_density));
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
    std::vector<Spectrum> spectra_;
    std::vector<double> cut_at_;        // the sample of each tap from which its lags count
    std::vector<std::ptrdiff_t> peaks_; // where the main impacts of each pair met in relate() ..
    std::vector<double> apart_;         // .. and the same between samples
};

void LandingSounds::Relating::prepare(std::span<const TapSound> taps, std::span<const std::size_t> take) {
    struct Noise {
        std::vector<double> power;
        std::size_t taps = 0;
    };
    std::map<std::size_t, Noise> noise;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        Noise& here = noise[take[i]];
        here.power.resize(bins(), 0.0);
        here.taps += add_noise(taps[i], here.power) ? 1U : 0U;
        spectra_.push_back(spectrum(taps[i]));
        cut_at_.push_back(static_cast<double>(std::lround(taps[i].onset.samples())));
    }
    for (auto& [number, here] : noise) {
        for (double& p : here.power) {
            p /= static_cast<double>(std::max<std::size_t>(1, here.taps));
        }
        here.power = smoothed(here.power);
    }
    // What is lost in the noise of one take is left out of all: otherwise takes of one bite would differ by their
    // noise. Noise counts relative to the taps, so that gain cancels.
    std::map<std::size_t, double> level;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        for (const std::complex<float>& bin : spectra_[i]) {
            level[take[i]] +=
                static_cast<double>(std::norm(bin)) / static_cast<double>(std::ranges::count(take, take[i]));
        }
    }
    std::vector<double> most(bins(), 0.0);
    for (const auto& [number, here] : noise) {
        for (std::size_t k = 0; k < most.size() && level[number] > 0.0; ++k) {
            most[k] = std::max(most[k], here.power[k] / level[number]);
        }
    }
    for (std::size_t i = 0; i < taps.size(); ++i) {
        keep_phase(spectra_[i], most, level[take[i]]);
    }
}

LandingTable LandingSounds::Relating::relate() {
    const std::size_t n = taps();
    LandingTable table(n);
    peaks_.assign(n * n, 0);
    apart_.assign(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) {
            correlate(spectra_[i], spectra_[j]);
            const std::ptrdiff_t peak = strongest(-search_, search_);
            peaks_[i * n + j] = peak;
            peaks_[j * n + i] = -peak;
            apart_[i * n + j] = between_samples(peak);
            apart_[j * n + i] = -apart_[i * n + j];
            double highest = 0.0;
            for (std::ptrdiff_t near = peak - 2; near <= peak + 2; ++near) {
                highest = std::max(highest, std::abs(static_cast<double>(value(near))));
            }
            if (highest >= settings_.same_tap * most()) {
                continue; // two copies of one tap
            }
            read(peak, table.row(i, j), table.row(j, i));
            table.set_known(i, j);
            table.set_known(j, i);
        }
    }
    return table;
}

std::vector<double> LandingSounds::Relating::main_impacts() const {
    const std::size_t n = taps();
    assert(apart_.size() == n * n); // relate() came first
    constexpr int rounds = 5;       // of letting each tap move to where most of the others want it
    std::vector<double> shift(n, 0.0);
    for (int round = 0; round < rounds; ++round) {
        std::vector<double> moved(n);
        for (std::size_t i = 0; i < n; ++i) {
            std::vector<double> wanted;
            for (std::size_t j = 0; j < n; ++j) { // its own place among them, so that two taps do not swap for ever
                wanted.push_back(apart_[i * n + j] + shift[j]);
            }
            moved[i] = median(wanted);
        }
        shift = std::move(moved);
    }
    for (std::size_t i = 0; i < n; ++i) {
        shift[i] += cut_at_[i];
    }
    return shift;
}

LandingTable LandingSounds::Relating::relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                                        std::span<const float> phase) {
    const std::size_t n = taps();
    assert(plain.taps() == n && recoloured.size() == n && phase.size() == bins());
    assert(peaks_.size() == n * n); // relate() came first
    const auto near = static_cast<std::ptrdiff_t>(whole_samples(0.2, rate_));
    Spectrum turn(phase.size());
    std::ranges::transform(phase, turn.begin(), [](float angle) { return std::polar(1.0F, angle); });
    LandingTable table(plain);
    Spectrum filtered(phase.size());
    for (std::size_t i = 0; i < n; ++i) {
        if (recoloured[i] == 0) {
            continue;
        }
        std::ranges::transform(spectra_[i], turn, filtered.begin(), std::multiplies<>());
        for (std::size_t j = 0; j < n; ++j) {
            if (recoloured[j] != 0 || !plain.known(i, j)) {
                continue;
            }
            correlate(filtered, spectra_[j]);
            const std::ptrdiff_t was = peaks_[i * n + j];
            read(strongest(std::max(was - near, -search_), std::min(was + near + 1, search_)), table.row(i, j),
                 table.row(j, i));
        }
    }
    return table;
}

LandingSounds::LandingSounds(std::span<const TapSound> taps, std::span<const std::size_t> take, SampleRate rate,
                             const LandingSettings& settings)
    : relating_(std::make_unique<Relating>(rate, settings)) {
    assert(taps.size() == take.size());
    relating_->prepare(taps, take);
}
LandingSounds::~LandingSounds() = default;
LandingSounds::LandingSounds(const LandingSounds& other) : relating_(std::make_unique<Relating>(*other.relating_)) {}
LandingSounds& LandingSounds::operator=(const LandingSounds& other) {
    *relating_ = *other.relating_;
    return *this;
}
LandingSounds::LandingSounds(LandingSounds&&) noexcept = default;
LandingSounds& LandingSounds::operator=(LandingSounds&&) noexcept = default;

std::size_t LandingSounds::taps() const {
    return relating_->taps();
}

std::size_t LandingSounds::bins() const {
    return relating_->bins();
}

LandingTable LandingSounds::relate() {
    return relating_->relate();
}

std::vector<double> LandingSounds::main_impacts() const {
    return relating_->main_impacts();
}

LandingTable LandingSounds::relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                              std::span<const float> phase) {
    return relating_->relate_recoloured(plain, recoloured, phase);
}

} // namespace retap::dsp
