// What a deviation speaks against the middle of a normal distribution.
#pragma once

namespace retap::dsp {

/// Minus the logarithm of a normal density, less its value in the middle.
[[nodiscard]] inline double normal_nll(double deviation, double scatter) {
    return 0.5 * deviation * deviation / (scatter * scatter);
}

} // namespace retap::dsp
