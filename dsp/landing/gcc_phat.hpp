// Two whitened taps laid over each other: at which lags their phases agree.
#pragma once

#include "dsp/filters/fft.hpp"
#include "dsp/landing/whitening.hpp"

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// The phase-only cross-correlation (PHAT; Knapp CH, Carter GC 1976, IEEE Trans ASSP 24:320-327) of two taps at a time,
/// c(lag) = sum over n of a(n + lag) b(n): positive lags are those by which the first tap is later. The transform is
/// circular, so its size has to hold both taps' reach and the lags that are asked for.
///
/// Not for two threads at once; give each a copy.
class GccPhat {
public:
    /// `size` of the transform (even), and the standard deviation in samples of the smoothing by which peaks are found.
    GccPhat(std::size_t size, double peak_blur);

    [[nodiscard]] std::size_t size() const { return fft_.size(); }
    [[nodiscard]] std::size_t bins() const { return fft_.bins(); }

    /// Takes the place of what was correlated before. Spectra of bins() values (asserted).
    void correlate(const WhiteSpectrum& a, const WhiteSpectrum& b);

    /// From -size/2 to before size/2; so may the lags below be, less three times the blur.
    [[nodiscard]] float value(std::ptrdiff_t lag) const {
        return correlation_[static_cast<std::size_t>(lag + static_cast<std::ptrdiff_t>(correlation_.size() / 2))];
    }
    /// Lag of the strongest peak from `first` to before `end`, of either sign, once smoothed; the first of several.
    [[nodiscard]] std::ptrdiff_t strongest(std::ptrdiff_t first, std::ptrdiff_t end) const;
    /// Where between samples the peak at `lag` lies, by a parabola through it and its neighbours; smoothed as it is,
    /// it is right to a few hundredths of a sample.
    [[nodiscard]] double between_samples(std::ptrdiff_t lag) const;
    /// Whether a value within two samples of `lag`, of either sign, reaches `share` of what it would be if all phases
    /// agreed there, as those of two copies of one sound do; silence agrees with everything.
    [[nodiscard]] bool agrees(std::ptrdiff_t lag, double share) const;

private:
    [[nodiscard]] float smooth(std::ptrdiff_t lag) const;

    RealFft fft_;
    std::vector<float> bell_;
    WhiteSpectrum product_;
    std::vector<float> correlation_;
};

} // namespace retap::dsp
