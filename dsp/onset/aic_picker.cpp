#include "dsp/onset/aic_picker.hpp"

#include "dsp/filters/linear_prediction.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::dsp {

namespace {

// Sum of squares over a window of n must exceed this to be more than chance: Gaussian noise does so less than about
// once in 1e7 windows (Laurent & Massart 2000, lemma 1: P[chi2_n > n + 2 sqrt(n t) + 2 t] <= exp(-t)).
double chance_limit(std::size_t n) {
    constexpr double t = 14.0;
    const auto freedom = static_cast<double>(n);
    return freedom + 2.0 * std::sqrt(freedom * t) + 2.0 * t;
}

// How much louder the residual is just before the search than where the noise was modelled. 1 when it is not clearly
// louder, or when too little of it is there.
double swell_before(std::span<const double> e, std::size_t from, std::size_t to) {
    constexpr std::size_t least = 64;
    constexpr double clearly = 1.2; // the estimate itself scatters by some per cent
    double sum = 0.0;
    for (std::size_t n = from; n < to; ++n) {
        sum += e[n] * e[n];
    }
    const double louder = to >= from + least ? std::sqrt(sum / static_cast<double>(to - from)) : 1.0;
    return louder > clearly ? louder : 1.0;
}

// The change from variance 1 to a larger one within [from, to): largest log likelihood ratio against 'noise to the
// end'.
std::size_t change_point(std::span<const double> e, std::size_t from, std::size_t to) {
    double sum = 0.0;
    double best = -1.0;
    std::size_t at = to - 1;
    for (std::size_t n = to; n-- > from;) {
        sum += e[n] * e[n];
        const auto count = static_cast<double>(to - n);
        const double variance = sum / count;
        if (variance <= 1.0) {
            continue;
        }
        const double gain = 0.5 * count * (variance - 1.0 - std::log(variance));
        if (gain >= best) {
            best = gain;
            at = n;
        }
    }
    return at;
}

} // namespace

std::optional<NoiseModel> model_noise(std::span<const std::span<const float>> stretches, std::size_t order) {
    double sum = 0.0;
    std::size_t count = 0;
    for (const auto stretch : stretches) {
        for (const float x : stretch) {
            sum += static_cast<double>(x);
        }
        count += stretch.size();
    }
    if (count == 0 || count < 8 * order) {
        return std::nullopt;
    }
    NoiseModel model;
    model.mean = sum / static_cast<double>(count);

    std::vector<double> r(order + 1, 0.0);
    std::vector<double> x;
    for (const auto stretch : stretches) {
        x.assign(stretch.begin(), stretch.end());
        for (std::size_t lag = 0; lag <= order; ++lag) {
            double product = 0.0;
            for (std::size_t n = lag; n < x.size(); ++n) {
                product += (x[n] - model.mean) * (x[n - lag] - model.mean);
            }
            r[lag] += product;
        }
    }
    if (r[0] <= 0.0) {
        return std::nullopt;
    }
    r[0] *= 1.0 + 1e-6; // keeps the recursion sound when the noise is a pure tone

    const ErrorFilter filter = levinson_durbin(r, order);
    for (std::size_t k = 1; k <= order; ++k) {
        model.prediction.push_back(-filter.coefficients[k]);
    }
    model.residual = std::sqrt(filter.error / static_cast<double>(count));
    return model;
}

std::vector<double> residual_over_noise(std::span<const float> samples, const NoiseModel& noise) {
    const std::size_t order = noise.prediction.size();
    std::vector<double> e(samples.size(), 0.0);
    for (std::size_t n = order; n < samples.size(); ++n) {
        double predicted = 0.0;
        for (std::size_t k = 0; k < order; ++k) {
            predicted += noise.prediction[k] * (static_cast<double>(samples[n - 1 - k]) - noise.mean);
        }
        e[n] = (static_cast<double>(samples[n]) - noise.mean - predicted) / noise.residual;
    }
    return e;
}

std::optional<double> aic_pick(std::span<const float> samples, std::size_t search_from, std::size_t main,
                               const NoiseModel& noise, SampleRate rate) {
    assert(noise.residual > 0.0);
    std::vector<double> e = residual_over_noise(samples, noise);
    const std::size_t begin = std::max(search_from, noise.prediction.size());
    const double swell = swell_before(e, noise.prediction.size(), begin);
    for (double& x : e) {
        x /= swell;
    }
    const auto width = static_cast<std::size_t>(std::max(4.0, 0.4e-3 * rate.hz()));
    const auto reach = static_cast<std::size_t>(6e-3 * rate.hz());
    const std::size_t end = std::min(e.size(), main + reach);
    if (end <= begin + width) {
        return std::nullopt;
    }
    const double limit = chance_limit(width);
    double sum = 0.0;
    for (std::size_t n = begin; n < end; ++n) {
        sum += e[n] * e[n];
        if (n >= begin + width) {
            sum -= e[n - width] * e[n - width];
        }
        if (sum > limit) {
            const std::size_t from = n + 1 > 2 * width ? n + 1 - 2 * width : 0;
            return static_cast<double>(change_point(e, from, std::min(e.size(), n + 1 + width / 2)));
        }
    }
    return std::nullopt;
}

} // namespace retap::dsp
