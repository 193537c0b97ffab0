// Linear prediction: the all-pole model of how a sound rings, and the filter that takes the ringing out.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// sum over n of x[n] x[n + lag] for lag = 0..`lags`; zeros beyond the end of `x`.
[[nodiscard]] std::vector<double> autocorrelation(std::span<const float> x, std::size_t lags);

/// What the recursion of Levinson and Durbin finds (Makhoul 1975, Proc IEEE 63:561, from memory).
struct ErrorFilter {
    std::vector<double> coefficients; ///< the first is 1; order + 1 values
    double error = 0.0;               ///< what is left of lag 0
};

/// The filter that leaves least of a sound with this autocorrelation, lags 0..`order` of it (more are ignored, fewer
/// asserted); lag 0 is positive (asserted). All its zeros lie inside the unit circle when the lags are those of a
/// sound; a pure tone needs a little noise at lag 0, or the error reaches zero before the order does.
[[nodiscard]] ErrorFilter levinson_durbin(std::span<const double> autocorrelation, std::size_t order);

/// What keeps the fit well behaved.
struct LinearPredictionSettings {
    /// Standard deviation, as a part of the sample rate, of the Gaussian by which the lag window widens every spectral
    /// line (Tohkura Y et al. 1978, IEEE Trans ASSP 26:587, from memory): 20 Hz at 48 kHz, under the bandwidth of a
    /// mode that dies within 10 ms.
    double line_width = 20.0 / 48000.0;
    double white_noise = 1e-9; ///< added to lag 0, relative to it: the whitening reaches down to -90 dB
};

/// x[n] = -sum over k >= 1 of coefficients[k] x[n - k] + residual[n].
struct LinearPrediction {
    std::vector<double> coefficients; ///< of the prediction error filter, the first is 1; order + 1 values
    double gain = 0.0;                ///< energy of the residual over that of the sound, 0..1 (0 for silence)
};

/// The error filter of `autocorrelation`, lags 0..`order` of it (more are ignored, fewer asserted), after lag
/// window and white-noise correction. All poles lie inside the unit circle. Silence gives the filter 1, 0, 0, ..
[[nodiscard]] LinearPrediction fit_linear_prediction(std::span<const double> autocorrelation, std::size_t order,
                                                     const LinearPredictionSettings& settings);

/// The sound through the prediction error filter: an impact that rings as the model does comes out as short as it
/// went in. Causal, no latency; silence is assumed before the first sample.
[[nodiscard]] std::vector<float> prediction_residual(std::span<const float> sound, const LinearPrediction& model);

/// What of each tap the shared model is fitted to.
struct SharedModelSettings {
    double lead_ms = 1.0;   ///< from so long before the onset
    double span_ms = 31.0;  ///< over so long; what rings later is below -60 dB of a tap or in the room
    double guard_ms = 2.0;  ///< the quiet ends so long before the onset
    double noise_part = 20; ///< how many times the noise counts, see below
};

/// Autocorrelation, lags 0..`order`, of all taps of a take together: each tap is brought to energy 1, so that every
/// tap counts the same, and `noise_part` times the autocorrelation of the noise in it is added, as measured in the
/// quiet before the tap (Hann window, scaled to the length of the tap). The whitening of such a model levels off where
/// the taps are less than `noise_part` over the noise, instead of lifting noise out of bands that hold nothing else
/// (10 to 30 served equally over modal and recorded impacts, 28 to 46 dB peak over noise). Taps without energy, or
/// without at least 2 ms of quiet, contribute no noise or nothing. All zero when there is nothing.
[[nodiscard]] std::vector<double> shared_autocorrelation(std::span<const TapSound> taps, SampleRate rate,
                                                         std::size_t order, const SharedModelSettings& settings);

} // namespace retap::dsp
