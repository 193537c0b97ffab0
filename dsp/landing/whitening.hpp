// Taps as spectra of which little but the phases is left, so that two of them can be related whatever they sound like.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"
#include "dsp/landing/settings.hpp"

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

using WhiteSpectrum = std::vector<std::complex<float>>;

/// Samples of a tap that whitened_taps() looks at; it cuts them out around the nearest sample to the tap's onset.
[[nodiscard]] std::size_t whitened_samples(SampleRate rate, const LandingSettings& settings);

/// One spectrum a tap, of a transform of `fft_size` samples (even, whitened_samples() or more; asserted): fft_size/2 +
/// 1 bins from 0 to half the rate, magnitudes from 0 to 1. Taps with the same number in `take` were recorded together
/// and share their noise. Same lengths (asserted).
///
/// Method: the tap is cut out with straight fades and transformed; each bin is divided by the root of its power and
/// `noise_part` times that of the noise, so that it keeps its phase and counts the less the deeper it lies in the noise
/// (a Wiener weight). The noise is that of the quiet before the taps, the mean over those of the take, relative to the
/// take's taps; at each frequency that of the noisiest take holds for all, or else takes of one bite would differ by
/// their noise. Gain and offset of a take have no effect, polarity turns its phases by half a turn. A tap with less
/// than 2 ms of quiet before it says nothing of the noise; where none of a take does, it counts as free of noise down
/// to `deepest_db` under each tap's strongest frequency.
[[nodiscard]] std::vector<WhiteSpectrum> whitened_taps(std::span<const TapSound> taps,
                                                       std::span<const std::size_t> take, SampleRate rate,
                                                       std::size_t fft_size, const LandingSettings& settings);

} // namespace retap::dsp
