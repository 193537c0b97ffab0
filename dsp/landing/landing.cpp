#include "dsp/landing/landing.hpp"

#include "dsp/base/whole_samples.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/landing/consensus_delays.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <functional>

namespace retap::dsp {
namespace {

/// Of a transform that holds a tap, and all lags about any peak that is looked for.
std::size_t transform_size(SampleRate rate, const LandingSettings& settings) {
    const double furthest = std::max(settings.share_ms, std::max(-phat_lags_ms.front(), phat_lags_ms.back()));
    const double blur = 3.0 * std::max(settings.blur_ms, settings.peak_blur_ms);
    const std::size_t reach = 2 * whole_samples(settings.search_ms + furthest + blur + 0.1, rate);
    return fast_fft_size(std::max(whitened_samples(rate, settings), reach));
}

} // namespace

LandingSounds::LandingSounds(std::span<const TapSound> taps, std::span<const std::size_t> take, SampleRate rate,
                             const LandingSettings& settings)
    : search_(static_cast<std::ptrdiff_t>(whole_samples(settings.search_ms, rate))),
      near_(static_cast<std::ptrdiff_t>(whole_samples(0.2, rate))), same_tap_(settings.same_tap),
      correlation_(transform_size(rate, settings), Length::from_ms(settings.peak_blur_ms, rate).samples()),
      reader_(rate, settings), spectra_(whitened_taps(taps, take, rate, correlation_.size(), settings)) {
    for (const TapSound& tap : taps) {
        cut_at_.push_back(static_cast<double>(std::lround(tap.onset.samples())));
    }
}

LandingTable LandingSounds::relate() {
    const std::size_t n = taps();
    LandingTable table(n);
    peaks_.assign(n * n, 0);
    apart_.assign(n * n, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 1; j < n; ++j) {
            correlation_.correlate(spectra_[i], spectra_[j]);
            const std::ptrdiff_t peak = correlation_.strongest(-search_, search_);
            peaks_[i * n + j] = peak;
            peaks_[j * n + i] = -peak;
            apart_[i * n + j] = correlation_.between_samples(peak);
            apart_[j * n + i] = -apart_[i * n + j];
            if (!correlation_.agrees(peak, same_tap_)) { // no two copies of one tap
                table.set(i, j, reader_.rows(correlation_, peak));
            }
        }
    }
    return table;
}

std::vector<double> LandingSounds::main_impacts() const {
    assert(apart_.size() == taps() * taps()); // relate() came first
    std::vector<double> places = consensus_delays(apart_, taps());
    std::ranges::transform(places, cut_at_, places.begin(), std::plus<>());
    return places;
}

LandingTable LandingSounds::relate_recoloured(const LandingTable& plain, std::span<const char> recoloured,
                                              std::span<const float> phase) {
    const std::size_t n = taps();
    assert(plain.taps() == n && recoloured.size() == n && phase.size() == bins());
    assert(peaks_.size() == n * n); // relate() came first
    WhiteSpectrum phasor(phase.size());
    std::ranges::transform(phase, phasor.begin(), [](float angle) { return std::polar(1.0F, angle); });
    LandingTable table(plain);
    WhiteSpectrum filtered(phase.size());
    for (std::size_t i = 0; i < n; ++i) {
        if (recoloured[i] == 0) {
            continue;
        }
        std::ranges::transform(spectra_[i], phasor, filtered.begin(), std::multiplies<>());
        for (std::size_t j = 0; j < n; ++j) {
            if (recoloured[j] != 0 || !plain.known(i, j)) {
                continue;
            }
            correlation_.correlate(filtered, spectra_[j]);
            const std::ptrdiff_t was = peaks_[i * n + j];
            const std::ptrdiff_t peak =
                correlation_.strongest(std::max(was - near_, -search_), std::min(was + near_ + 1, search_));
            table.set(i, j, reader_.rows(correlation_, peak));
        }
    }
    return table;
}

} // namespace retap::dsp
