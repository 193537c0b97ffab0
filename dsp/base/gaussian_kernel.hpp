// A bell curve to blur by.
#pragma once

#include <vector>

namespace retap::dsp {

/// Weights of a Gaussian, of a standard deviation of `sigma` samples (more than 0, asserted), from its centre outwards
/// to three of these: the centre first, and each further one stands for both sides. Over both sides they sum to 1.
[[nodiscard]] std::vector<float> half_gaussian(double sigma);

} // namespace retap::dsp
