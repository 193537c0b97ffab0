// Weights that taper a stretch of samples, and the two numbers that say what they cost.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// Harris FJ 1978, Proc IEEE 66:51-83. Hamming with 0.54, Blackman with 0.42, 0.5, 0.08; Blackman-Harris is the minimum
/// four-term one (side lobes below -92 dB).
enum class WindowKind { rectangle, hann, hamming, blackman, blackman_harris };

/// `size` weights, periodic: weight n is taken at n/size, so the window fits a transform of the same size and its
/// first weight is the smallest one. Empty for size 0.
[[nodiscard]] std::vector<float> make_window(WindowKind kind, std::size_t size);

/// Mean of the weights: what a steady sine's peak is multiplied by. Not empty (asserted).
[[nodiscard]] double coherent_gain(std::span<const float> window);

/// Equivalent noise bandwidth in bins: n sum(w^2) / sum(w)^2. Sum of weights not zero (asserted).
[[nodiscard]] double noise_bandwidth_bins(std::span<const float> window);

/// Half a cosine cycle from 0 up to 1 over the whole span, and its mirror image: for taking the edge off an excerpt.
/// Sample i of n is weighted at (i + 1/2)/n, so that neither end is lost altogether.
void fade_in(std::span<float> samples);
void fade_out(std::span<float> samples);

} // namespace retap::dsp
