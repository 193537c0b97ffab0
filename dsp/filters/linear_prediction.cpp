#include "dsp/filters/linear_prediction.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/window.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

namespace retap::dsp {

std::vector<double> autocorrelation(std::span<const float> x, std::size_t lags) {
    std::vector<double> r(lags + 1, 0.0);
    for (std::size_t lag = 0; lag < r.size() && lag < x.size(); ++lag) {
        double sum = 0.0;
        for (std::size_t n = 0; n + lag < x.size(); ++n) {
            sum += static_cast<double>(x[n]) * static_cast<double>(x[n + lag]);
        }
        r[lag] = sum;
    }
    return r;
}

ErrorFilter levinson_durbin(std::span<const double> autocorrelation, std::size_t order) {
    const std::span<const double> r = autocorrelation;
    assert(r.size() > order && r[0] > 0.0);
    ErrorFilter filter{.coefficients = std::vector<double>(order + 1, 0.0), .error = r[0]};
    std::vector<double>& a = filter.coefficients;
    a[0] = 1.0;
    for (std::size_t m = 1; m <= order; ++m) {
        double sum = 0.0;
        for (std::size_t k = 0; k < m; ++k) {
            sum += a[k] * r[m - k];
        }
        const double reflection = -sum / filter.error;
        for (std::size_t k = 1; 2 * k <= m; ++k) {
            const double low = a[k];
            const double high = a[m - k];
            a[k] = low + reflection * high;
            a[m - k] = high + reflection * low;
        }
        a[m] = reflection;
        filter.error *= 1.0 - reflection * reflection;
    }
    return filter;
}

LinearPrediction fit_linear_prediction(std::span<const double> autocorrelation, std::size_t order,
                                       const LinearPredictionSettings& settings) {
    assert(autocorrelation.size() > order);
    LinearPrediction model;
    model.coefficients.assign(order + 1, 0.0);
    model.coefficients[0] = 1.0;
    if (autocorrelation[0] <= 0.0) {
        return model;
    }
    std::vector<double> r(order + 1);
    for (std::size_t lag = 0; lag <= order; ++lag) {
        const double phase = 2.0 * std::numbers::pi * settings.line_width * static_cast<double>(lag);
        r[lag] = autocorrelation[lag] * std::exp(-0.5 * phase * phase);
    }
    r[0] *= 1.0 + settings.white_noise;

    ErrorFilter filter = levinson_durbin(r, order);
    model.coefficients = std::move(filter.coefficients);
    model.gain = filter.error / r[0];
    return model;
}

std::vector<float> prediction_residual(std::span<const float> sound, const LinearPrediction& model) {
    std::vector<double> sum(sound.size(), 0.0);
    for (std::size_t k = 0; k < model.coefficients.size() && k < sound.size(); ++k) {
        const double c = model.coefficients[k];
        for (std::size_t n = k; n < sound.size(); ++n) {
            sum[n] += c * static_cast<double>(sound[n - k]);
        }
    }
    std::vector<float> residual(sound.size());
    std::ranges::transform(sum, residual.begin(), [](double v) { return static_cast<float>(v); });
    return residual;
}

namespace {

// samples from `begin` to `end`, which may lie outside
std::span<const float> clipped(std::span<const float> samples, double begin, double end) {
    const auto size = static_cast<double>(samples.size());
    const auto first = static_cast<std::size_t>(std::clamp(begin, 0.0, size));
    const auto last = static_cast<std::size_t>(std::clamp(end, static_cast<double>(first), size));
    return samples.subspan(first, last - first);
}

void add_scaled(std::vector<double>& sum, const std::vector<double>& values, double factor) {
    for (std::size_t i = 0; i < sum.size(); ++i) {
        sum[i] += factor * values[i];
    }
}

// per sample of the quiet; empty when there is too little of it
std::vector<double> noise_autocorrelation(std::span<const float> quiet, std::size_t least, std::size_t order,
                                          std::vector<float>& window) {
    if (quiet.size() < least) {
        return {};
    }
    if (window.size() != quiet.size()) { // one for all taps, as a rule
        window = make_window(WindowKind::hann, quiet.size());
    }
    std::vector<float> weighted = window;
    double power = 0.0;
    for (std::size_t i = 0; i < weighted.size(); ++i) {
        power += static_cast<double>(weighted[i]) * static_cast<double>(weighted[i]);
        weighted[i] *= quiet[i];
    }
    std::vector<double> r = autocorrelation(weighted, order);
    std::ranges::transform(r, r.begin(), [power](double v) { return v / power; });
    return r;
}

} // namespace

std::vector<double> shared_autocorrelation(std::span<const TapSound> taps, SampleRate rate, std::size_t order,
                                           const SharedModelSettings& settings) {
    const auto samples = [rate](double ms) { return Length::from_ms(ms, rate).samples(); };
    const auto min_quiet = static_cast<std::size_t>(samples(2.0));
    std::vector<double> sum(order + 1, 0.0);
    std::vector<float> window;
    for (const TapSound& tap : taps) {
        const double begin = tap.onset.samples() - samples(settings.lead_ms);
        const std::span<const float> sound = clipped(tap.samples, begin, begin + samples(settings.span_ms));
        const std::vector<double> r = autocorrelation(sound, order);
        if (r[0] <= 0.0) {
            continue;
        }
        add_scaled(sum, r, 1.0 / r[0]);
        const auto quiet = quiet_before(tap.samples, tap.onset, Length(samples(settings.guard_ms)));
        const std::vector<double> noise = noise_autocorrelation(quiet, min_quiet, order, window);
        if (!noise.empty()) {
            add_scaled(sum, noise, settings.noise_part * static_cast<double>(sound.size()) / r[0]);
        }
    }
    return sum;
}

} // namespace retap::dsp
