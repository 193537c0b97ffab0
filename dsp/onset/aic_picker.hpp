// The instant at which an impact arrives, to a fraction of a sample.
#pragma once

#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// A whitening filter and the noise it was made from.
struct NoiseModel {
    std::vector<double> prediction; ///< x[n] is predicted as the sum of prediction[k] x[n-1-k]
    double residual = 0.0;          ///< standard deviation of what the prediction misses
    double mean = 0.0;              ///< offset of the recording
};

/// Linear prediction (autocorrelation method, Levinson-Durbin; Makhoul 1975, from memory) over stretches of noise of
/// equal standing. `order` taps, none for noise that is white; nullopt when the stretches are silent or hold fewer than
/// 8 x order samples.
[[nodiscard]] std::optional<NoiseModel> model_noise(std::span<const std::span<const float>> stretches,
                                                    std::size_t order);

/// What the prediction misses of each sample, in standard deviations of the noise: white where the noise is alone. The
/// first `order` samples, which have no past, are 0.
[[nodiscard]] std::vector<double> residual_over_noise(std::span<const float> samples, const NoiseModel& noise);

/// Where the sound first leaves the noise: index into `samples`, may lie between two of them.
///
/// Method: the noise is whitened by its own prediction error filter, which is causal and answers in the very sample in
/// which something new arrives, so it adds no delay. From `search_from` up to a few milliseconds beyond `main` (index
/// of the main attack) the earliest stretch is sought in which the residual's energy exceeds what noise does by chance;
/// the noise may have swollen since it was modelled, so what comes before `search_from` (some 20 ms) says how loud it
/// is now;
/// within it the change point is the maximum of the likelihood (variance known before, unknown after: the AIC pick of
/// Maeda 1985 with the noise side known). nullopt when nothing exceeds the noise.
[[nodiscard]] std::optional<double> aic_pick(std::span<const float> samples, std::size_t search_from, std::size_t main,
                                             const NoiseModel& noise, SampleRate rate);

} // namespace retap::dsp
