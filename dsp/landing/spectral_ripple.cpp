#include "dsp/landing/spectral_ripple.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/whole_samples.hpp"
#include "dsp/filters/fft.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace retap::dsp {
namespace {

/// Power at the frequencies that are looked at.
using Power = std::vector<double>;

/// Cuts stretches of one length out of sounds and gives their power spectra.
class PowerSpectra {
public:
    PowerSpectra(SampleRate rate, const SpectralRippleSettings& settings)
        : length_(whole_samples(settings.before_ms + settings.after_ms, rate)),
          before_(whole_samples(settings.before_ms, rate)), fade_(whole_samples(settings.fade_ms, rate)),
          fft_(fast_fft_size(2 * length_)) {
        const double bin_hz = rate.hz() / static_cast<double>(fft_.size());
        first_ = static_cast<std::size_t>(std::ceil(settings.from_hz / bin_hz));
        end_ = std::min(fft_.bins(), static_cast<std::size_t>(settings.to_hz / bin_hz));
        for (std::size_t k = first_; k < end_; ++k) {
            hz_.push_back(static_cast<double>(k) * bin_hz);
        }
    }

    [[nodiscard]] const std::vector<double>& hz() const { return hz_; }

    /// From `before_ms` before the onset; empty when the sound does not hold all of it.
    [[nodiscard]] Power of_tap(const TapSound& tap) {
        const std::ptrdiff_t begin = std::lround(tap.onset.samples()) - static_cast<std::ptrdiff_t>(before_);
        return begin < 0 ? Power{} : of(tap.samples, static_cast<std::size_t>(begin), length_);
    }

    /// Of the quiet before the tap, scaled to the length of a tap's; empty when there is none.
    [[nodiscard]] Power of_quiet(const TapSound& tap) {
        const auto length = quiet_before(tap.samples, tap.onset, Length(static_cast<double>(before_))).size();
        if (length < 4 * fade_) {
            return {};
        }
        Power power = of(tap.samples, 0, std::min(length, length_));
        std::ranges::for_each(power, [&](double& p) {
            p *= static_cast<double>(length_) / static_cast<double>(std::min(length, length_));
        });
        return power;
    }

private:
    [[nodiscard]] Power of(std::span<const float> samples, std::size_t begin, std::size_t length) {
        if (begin + length > samples.size()) {
            return {};
        }
        std::vector<float> part(samples.begin() + static_cast<std::ptrdiff_t>(begin),
                                samples.begin() + static_cast<std::ptrdiff_t>(begin + length));
        for (std::size_t i = 0; i < fade_; ++i) {
            part[length - 1 - i] *= static_cast<float>(i) / static_cast<float>(fade_);
        }
        const auto spectrum = fft_.forward(part);
        Power power;
        power.reserve(end_ - first_);
        for (std::size_t k = first_; k < end_; ++k) {
            power.push_back(static_cast<double>(std::norm(spectrum[k])));
        }
        return power;
    }

    std::size_t length_;
    std::size_t before_;
    std::size_t fade_;
    RealFft fft_;
    std::size_t first_ = 0;
    std::size_t end_ = 0;
    std::vector<double> hz_;
};

Power mean_of(const std::vector<Power>& powers, std::size_t size) {
    Power mean(size, 0.0);
    double count = 0.0;
    for (const Power& power : powers) {
        for (std::size_t k = 0; k < power.size(); ++k) {
            mean[k] += power[k];
        }
        count += power.empty() ? 0.0 : 1.0;
    }
    std::ranges::for_each(mean, [count](double& p) { p /= std::max(1.0, count); });
    return mean;
}

/// Half the logarithm of the power, less its weighed straight trend over the frequencies, times the weights.
std::vector<double> flattened(const Power& power, const Power& noise, const std::vector<double>& weights) {
    std::vector<double> log_power(power.size());
    double sw = 0.0;
    double sx = 0.0;
    double sy = 0.0;
    for (std::size_t k = 0; k < power.size(); ++k) {
        log_power[k] = 0.5 * std::log(power[k] + noise[k] + 1e-30);
        sw += weights[k];
        sx += weights[k] * static_cast<double>(k);
        sy += weights[k] * log_power[k];
    }
    const double middle = sx / sw;
    double sxx = 0.0;
    double sxy = 0.0;
    for (std::size_t k = 0; k < power.size(); ++k) {
        const double x = static_cast<double>(k) - middle;
        sxx += weights[k] * x * x;
        sxy += weights[k] * x * (log_power[k] - sy / sw);
    }
    for (std::size_t k = 0; k < power.size(); ++k) {
        log_power[k] = weights[k] * (log_power[k] - sy / sw - sxy / sxx * (static_cast<double>(k) - middle));
    }
    return log_power;
}

/// How far each frequency stands out of the noise, 0 to 1, tapered to both ends of the band.
std::vector<double> weights_of(const Power& power, const Power& noise) {
    std::vector<double> weights(power.size());
    for (std::size_t k = 0; k < power.size(); ++k) {
        const double above = std::max(0.0, power[k] - noise[k]);
        const double at = (static_cast<double>(k) + 0.5) / static_cast<double>(power.size());
        weights[k] = above / (power[k] + 1e-30) * std::sin(std::numbers::pi * at);
    }
    return weights;
}

/// The highest of the values at delays that differ by no more than a tap's may wander.
std::vector<double> highest_near(const std::vector<double>& values, const std::vector<double>& delays_ms,
                                 double wander) {
    std::vector<double> highest(values.size());
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto first = std::ranges::lower_bound(delays_ms, delays_ms[i] * (1.0 - wander)) - delays_ms.begin();
        const auto end = std::ranges::upper_bound(delays_ms, delays_ms[i] * (1.0 + wander)) - delays_ms.begin();
        highest[i] = *std::max_element(values.begin() + first, values.begin() + end);
    }
    return highest;
}

} // namespace

SpectralRipples spectral_ripples(std::span<const TapSound> taps, SampleRate rate,
                                 const SpectralRippleSettings& settings) {
    SpectralRipples ripples;
    const auto steps = static_cast<int>((settings.max_delay_ms - settings.min_delay_ms) / settings.step_ms);
    for (int step = 0; step <= steps; ++step) {
        ripples.delays_ms.push_back(settings.min_delay_ms + static_cast<double>(step) * settings.step_ms);
    }
    PowerSpectra spectra(rate, settings);
    std::vector<Power> powers;
    std::vector<Power> quiet;
    for (const TapSound& tap : taps) {
        powers.push_back(spectra.of_tap(tap));
        quiet.push_back(spectra.of_quiet(tap));
    }
    const std::size_t size = spectra.hz().size();
    const Power noise = mean_of(quiet, size);
    const std::vector<double> weights = weights_of(mean_of(powers, size), noise);
    double weight = 0.0;
    std::ranges::for_each(weights, [&](double w) { weight += w; });
    for (const Power& power : powers) {
        std::vector<double> heights(ripples.delays_ms.size(), 0.0);
        if (!power.empty() && weight > 0.0) {
            const std::vector<double> flat = flattened(power, noise, weights);
            for (std::size_t d = 0; d < heights.size(); ++d) {
                const double turn = 2.0 * std::numbers::pi * 1e-3 * ripples.delays_ms[d];
                for (std::size_t k = 0; k < size; ++k) {
                    heights[d] += flat[k] * std::cos(turn * spectra.hz()[k]);
                }
                heights[d] *= 2.0 / weight;
            }
            heights = highest_near(heights, ripples.delays_ms, settings.wander);
        }
        ripples.of_tap.push_back(std::move(heights));
    }
    return ripples;
}

} // namespace retap::dsp
