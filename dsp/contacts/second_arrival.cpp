#include "dsp/contacts/second_arrival.hpp"

#include "dsp/filters/fractional_delay.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

namespace retap::dsp {

namespace {

constexpr std::size_t stride = 4; // samples between two values of the envelope, each the mean of two strides

enum class Stronger { first, second };

struct Trial {
    std::size_t half_lag = 0; // lag in half samples
    Stronger stronger = Stronger::first;
    float weaker = 0.0F; // weaker over stronger arrival, as weighted
    double gain = -1e300;
};

// The weighted stretch, at its own rate and twice that rate, and the buffers the trials work in.
class Stretch {
public:
    Stretch(std::span<const float> sound, double noise_rms, const ArrivalSearch& search);

    [[nodiscard]] bool silent() const { return silent_; }
    [[nodiscard]] const std::vector<float>& sound() const { return sound_; }
    [[nodiscard]] std::vector<float> envelope_at_samples() const;
    void rate(Trial& trial);
    [[nodiscard]] double train_gain(std::size_t half_lag, float ratio);

private:
    [[nodiscard]] double half_log_envelope(const std::vector<float>& at_double_rate);

    std::vector<float> sound_;
    std::vector<float> doubled_;
    std::vector<float> reversed_;
    std::vector<float> noise_; // power at each value of the envelope
    std::vector<float> power_; // of each stride
    std::vector<float> undone_;
    double alone_ = 0.0;
    bool silent_ = true;
};

std::vector<float> at_double_rate(const std::vector<float>& sound) {
    const std::vector<float> between = delayed(sound, Length(-0.5));
    std::vector<float> doubled(2 * sound.size());
    for (std::size_t n = 0; n < sound.size(); ++n) {
        doubled[2 * n] = sound[n];
        doubled[2 * n + 1] = between[n];
    }
    return doubled;
}

Stretch::Stretch(std::span<const float> sound, double noise_rms, const ArrivalSearch& search)
    : sound_(sound.begin(), sound.end()) {
    std::vector<double> weight(sound.size());
    double peak = 0.0;
    for (std::size_t n = 0; n < sound_.size(); ++n) {
        const double t = std::max(0.0, static_cast<double>(n) - static_cast<double>(search.lead));
        weight[n] = std::exp(-t / search.decay);
        sound_[n] *= static_cast<float>(weight[n]);
        peak = std::max(peak, std::abs(static_cast<double>(sound_[n])));
    }
    silent_ = peak <= 0.0;
    if (silent_) {
        return;
    }
    const auto scale = static_cast<float>(1.0 / peak); // so that products of powers stay in range
    std::ranges::transform(sound_, sound_.begin(), [scale](float v) { return v * scale; });
    power_.resize(sound_.size() / stride);
    for (std::size_t j = 0; j + 1 < power_.size(); ++j) {
        const double rms = std::max(noise_rms / peak * weight[stride * (j + 1)], 1e-5);
        noise_.push_back(static_cast<float>(rms * rms));
    }
    doubled_ = at_double_rate(sound_);
    reversed_.assign(doubled_.rbegin(), doubled_.rend());
    undone_.resize(doubled_.size());
    alone_ = half_log_envelope(doubled_);
}

// 1/2 sum of log envelope over the samples
double Stretch::half_log_envelope(const std::vector<float>& at_double_rate) {
    for (std::size_t j = 0; j < power_.size(); ++j) {
        float sum = 0.0F;
        for (std::size_t i = 0; i < stride; ++i) {
            const float v = at_double_rate[2 * (stride * j + i)];
            sum += v * v;
        }
        power_[j] = sum;
    }
    constexpr float share = 1.0F / (2.0F * stride);
    double sum = 0.0;
    double product = 1.0; // of several values, for a logarithm costs more than they do
    for (std::size_t j = 0; j < noise_.size(); ++j) {
        product *= static_cast<double>((power_[j] + power_[j + 1]) * share + noise_[j]);
        if (j % 16 == 15) {
            sum += std::log(product);
            product = 1.0;
        }
    }
    return 0.5 * stride * (sum + std::log(product));
}

std::vector<float> Stretch::envelope_at_samples() const {
    std::vector<float> envelope(sound_.size());
    constexpr std::size_t reach = stride;
    for (std::size_t n = 0; n < sound_.size(); ++n) {
        const std::size_t begin = n < reach ? 0 : n - reach;
        const std::size_t end = std::min(n + reach + 1, sound_.size());
        float sum = 0.0F;
        for (std::size_t i = begin; i < end; ++i) {
            sum += sound_[i] * sound_[i];
        }
        const std::size_t j = std::min(n / stride, noise_.size() - 1);
        envelope[n] = sum / static_cast<float>(2 * reach + 1) + noise_[j];
    }
    return envelope;
}

void Stretch::rate(Trial& trial) {
    const std::vector<float>& x = trial.stronger == Stronger::first ? doubled_ : reversed_;
    const std::size_t lag = trial.half_lag;
    std::copy_n(x.begin(), lag, undone_.begin());
    for (std::size_t begin = lag; begin < x.size(); begin += lag) { // within a block nothing depends on itself
        const std::size_t count = std::min(lag, x.size() - begin);
        const float* in = x.data() + begin;
        const float* earlier = undone_.data() + (begin - lag);
        float* out = undone_.data() + begin;
        for (std::size_t i = 0; i < count; ++i) {
            out[i] = in[i] - trial.weaker * earlier[i];
        }
    }
    if (trial.stronger == Stronger::second) {
        std::ranges::reverse(undone_);
    }
    trial.gain = alone_ - half_log_envelope(undone_);
}

// every copy is followed by the next: what undoes that is a difference and no recursion
double Stretch::train_gain(std::size_t half_lag, float ratio) {
    std::copy_n(doubled_.begin(), half_lag, undone_.begin());
    for (std::size_t n = half_lag; n < doubled_.size(); ++n) {
        undone_[n] = doubled_[n] - ratio * doubled_[n - half_lag];
    }
    return alone_ - half_log_envelope(undone_);
}

// Gains to be expected at each lag, first arrival stronger and second one stronger: score squared over twice the
// information.
std::array<std::vector<float>, 2> score_test(const Stretch& stretch, const ArrivalSearch& search) {
    const std::vector<float>& x = stretch.sound();
    const std::vector<float> envelope = stretch.envelope_at_samples();
    const std::size_t size = x.size();
    const std::size_t lags = search.longest - search.shortest + 1;
    // reversed, so that a sum over ever longer lags runs forward in memory
    std::vector<float> back(x.rbegin(), x.rend());
    std::vector<float> power(size);
    std::vector<float> weighted(size);
    std::vector<float> weight(size);
    for (std::size_t n = 0; n < size; ++n) {
        const std::size_t from = size - 1 - n;
        power[n] = x[from] * x[from];
        weight[n] = 1.0F / envelope[from];
        weighted[n] = x[from] * weight[n];
    }
    std::array<std::vector<float>, 4> sums; // score and information for either direction
    sums.fill(std::vector<float>(lags, 0.0F));
    for (std::size_t n = search.shortest; n < size; ++n) {
        const std::size_t at = size - 1 - n;            // of sample n
        const std::size_t first = at + search.shortest; // of the sample `shortest` before it
        const std::size_t count = std::min(lags, n - search.shortest + 1);
        const float x_weighted = weighted[at];
        const float x_weight = weight[at];
        const float x_value = back[at];
        const float x_power = power[at];
        for (std::size_t i = 0; i < count; ++i) {
            sums[0][i] += x_weighted * back[first + i];
            sums[1][i] += x_weight * power[first + i];
            sums[2][i] += x_value * weighted[first + i];
            sums[3][i] += x_power * weight[first + i];
        }
    }
    std::array<std::vector<float>, 2> gains;
    for (std::size_t side = 0; side < 2; ++side) {
        gains.at(side).resize(lags);
        for (std::size_t i = 0; i < lags; ++i) {
            const float score = std::max(sums.at(2 * side)[i], 0.0F);
            gains.at(side)[i] = score * score / (2.0F * std::max(sums.at(2 * side + 1)[i], 1e-20F));
        }
    }
    return gains;
}

// Lags with the highest expected gains, each more than two samples from the others.
std::vector<std::size_t> highest(std::vector<float> gains, const ArrivalSearch& search) {
    std::vector<std::size_t> lags;
    for (std::size_t k = 0; k < search.candidates; ++k) {
        const auto best = std::ranges::max_element(gains);
        if (best == gains.end() || *best <= 0.0F) {
            break;
        }
        const auto i = static_cast<std::size_t>(best - gains.begin());
        lags.push_back(search.shortest + i);
        const std::size_t begin = i < 2 ? 0 : i - 2;
        std::fill_n(gains.begin() + static_cast<std::ptrdiff_t>(begin), std::min(i + 3, gains.size()) - begin, 0.0F);
    }
    return lags;
}

std::vector<Trial> coarse_trials(Stretch& stretch, const ArrivalSearch& search) {
    const std::array<std::vector<float>, 2> expected = score_test(stretch, search);
    std::vector<Trial> trials;
    for (const Stronger stronger : {Stronger::first, Stronger::second}) {
        for (const std::size_t lag : highest(expected.at(stronger == Stronger::first ? 0 : 1), search)) {
            for (const std::size_t half_lag : {2 * lag - 1, 2 * lag, 2 * lag + 1}) {
                Trial best;
                for (const float weaker : {0.2F, 0.4F, 0.6F, 0.85F}) {
                    Trial trial{.half_lag = half_lag, .stronger = stronger, .weaker = weaker};
                    stretch.rate(trial);
                    best = trial.gain > best.gain ? trial : best;
                }
                trials.push_back(best);
            }
        }
    }
    std::ranges::stable_sort(trials, [](const Trial& a, const Trial& b) { return a.gain > b.gain; });
    return trials;
}

Trial refined(Stretch& stretch, const Trial& start) {
    Trial best = start;
    for (std::size_t half_lag = start.half_lag - 2; half_lag <= start.half_lag + 2; ++half_lag) {
        for (const float factor : {0.8F, 0.9F, 1.0F, 1.1F, 1.22F, 1.35F}) {
            Trial trial{.half_lag = half_lag,
                        .stronger = start.stronger,
                        .weaker = std::clamp(start.weaker * factor, 0.05F, 0.95F)};
            stretch.rate(trial);
            best = trial.gain > best.gain ? trial : best;
        }
    }
    return best;
}

} // namespace

std::optional<SecondArrival> find_second_arrival(std::span<const float> sound, double noise_rms,
                                                 const ArrivalSearch& search) {
    assert(search.shortest >= 2 && search.longest >= search.shortest && search.decay > 0.0);
    if (sound.size() < search.lead + 2 * search.longest) {
        return std::nullopt;
    }
    Stretch stretch(sound, noise_rms, search);
    if (stretch.silent()) {
        return std::nullopt;
    }
    const std::vector<Trial> trials = coarse_trials(stretch, search);
    if (trials.empty() || trials.front().gain <= 0.0) {
        return std::nullopt;
    }
    Trial best = trials.front();
    if (best.gain > search.worth_refining) {
        for (std::size_t i = 0; i < std::min<std::size_t>(4, trials.size()); ++i) {
            const Trial trial = refined(stretch, trials[i]);
            best = trial.gain > best.gain ? trial : best;
        }
    }
    double train = -1e300;
    for (const float ratio : {0.1F, 0.2F, 0.3F, 0.4F, 0.5F, 0.6F, 0.7F, 0.8F, 0.9F}) {
        train = std::max(train, stretch.train_gain(best.half_lag, ratio));
    }
    const double lag = 0.5 * static_cast<double>(best.half_lag);
    const double weighting = std::exp(-lag / search.decay);
    const auto weaker = static_cast<double>(best.weaker);
    return SecondArrival{.lag = lag,
                         .ratio = best.stronger == Stronger::first ? weaker / weighting : 1.0 / (weaker * weighting),
                         .gain = best.gain,
                         .train_gain = train};
}

} // namespace retap::dsp
