#include "dsp/filters/gcc.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/base/window.hpp"
#include "dsp/filters/fft.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>

namespace retap::dsp {

namespace {

// The part of an excerpt around the onset, edges faded, at the start of a buffer with room for the lag.
std::vector<float> stretch(std::span<const float> excerpt, Position onset, SampleRate rate,
                           const LeadSettings& settings) {
    const auto index = [size = static_cast<double>(excerpt.size())](Position p) {
        return static_cast<std::size_t>(std::clamp(p.samples(), 0.0, size));
    };
    const Length after = Length::from_ms(settings.after_ms, rate);
    const auto quiet = quiet_before(excerpt, onset, Length::from_ms(settings.before_ms, rate));
    const std::size_t begin = quiet.size();
    const std::size_t earliest = index(onset - Length::from_ms(settings.longest_ms, rate));
    const std::size_t fade = index(onset + after * (2.0 / 3.0));
    const std::size_t end = index(onset + after);
    std::vector<float> part(excerpt.begin() + static_cast<std::ptrdiff_t>(begin),
                            excerpt.begin() + static_cast<std::ptrdiff_t>(end));
    const auto offset = static_cast<float>(mean(quiet));
    std::ranges::transform(part, part.begin(), [offset](float v) { return v - offset; });
    fade_in(std::span<float>(part).first(std::max(begin, earliest) - begin)); // done before either channel's onset
    fade_out(std::span<float>(part).subspan(fade - begin));
    const double room = Length::from_ms(settings.before_ms + settings.after_ms + settings.longest_ms, rate).samples();
    part.resize(fast_fft_size(static_cast<std::size_t>(std::ceil(room)) + 2), 0.0F);
    return part;
}

} // namespace

std::vector<float> gcc(std::span<const float> first, std::span<const float> second, SampleRate rate,
                       const GccSettings& settings) {
    assert(first.size() == second.size() && settings.upsampling >= 1);
    RealFft fft(first.size());
    RealFft fine(first.size() * settings.upsampling);
    const std::vector<std::complex<float>> a = fft.forward(first);
    const std::vector<std::complex<float>> b = fft.forward(second);
    const double spacing = rate.hz() / static_cast<double>(fft.size());
    std::vector<std::complex<float>> weighted(fine.bins());
    double weights = 0.0;
    for (std::size_t k = 0; k < fft.bins(); ++k) {
        const double hz = spacing * static_cast<double>(k);
        const std::complex<double> cross = std::conj(std::complex<double>(a[k])) * std::complex<double>(b[k]);
        const double size = std::abs(cross);
        if (hz < settings.lowest.hz() || hz > settings.highest.hz() || size == 0.0) {
            continue;
        }
        // in a longer transform the middle bin is an ordinary one and stands for two
        const bool middle = k + 1 == fft.bins();
        const double weight = std::pow(size, 1.0 - settings.whitening);
        const double share = middle && settings.upsampling > 1 ? 0.5 : 1.0;
        weighted[k] = std::complex<float>(cross * (share * weight / size));
        weights += k == 0 || middle ? weight : 2.0 * weight;
    }
    std::vector<float> correlation = fine.inverse(weighted);
    const double scale = weights > 0.0 ? static_cast<double>(fine.size()) / weights : 0.0;
    std::ranges::transform(correlation, correlation.begin(),
                           [scale](float v) { return static_cast<float>(scale * static_cast<double>(v)); });
    return correlation;
}

std::optional<Lead> left_lead(std::span<const float> left, std::span<const float> right, Position onset,
                              SampleRate rate, const LeadSettings& settings) {
    assert(left.size() == right.size());
    const std::vector<float> correlation =
        gcc(stretch(left, onset, rate, settings), stretch(right, onset, rate, settings), rate, settings.correlation);
    const auto size = static_cast<std::ptrdiff_t>(correlation.size());
    const auto at = [&](std::ptrdiff_t lag) {
        return static_cast<double>(correlation[static_cast<std::size_t>((lag + size) % size)]);
    };
    const auto steps_per_sample = static_cast<double>(settings.correlation.upsampling);
    const auto longest =
        static_cast<std::ptrdiff_t>(Length::from_ms(settings.longest_ms, rate).samples() * steps_per_sample);
    std::ptrdiff_t best = -longest;
    for (std::ptrdiff_t lag = -longest; lag <= longest; ++lag) {
        if (at(lag) > at(best)) {
            best = lag;
        }
    }
    if (std::abs(best) == longest || at(best) < settings.min_agreement) {
        return std::nullopt;
    }
    const double curvature = at(best - 1) - 2.0 * at(best) + at(best + 1);
    const double offset = curvature < 0.0 ? 0.5 * (at(best - 1) - at(best + 1)) / curvature : 0.0;
    const Length lag((static_cast<double>(best) + offset) / steps_per_sample);
    return Lead{.left_lead_ms = lag.ms(rate), .agreement = at(best)};
}

} // namespace retap::dsp
