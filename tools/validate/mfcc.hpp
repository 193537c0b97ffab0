// Mel-frequency cepstral coefficients, as a rival: the usual way to say how a sound is coloured.
#pragma once

#include "dsp/base/units.hpp"

#include <array>
#include <span>

namespace retap::validate {

inline constexpr std::size_t mfcc_count = 13;

/// Coefficients 1 to 13 (0, the level, left out) of one stretch: Hann window, power spectrum, 26 triangles evenly
/// spaced on the mel scale 2595 log10(1 + f / 700) from 100 Hz to 16 kHz or 0.45 of the rate, natural logarithm,
/// orthonormal DCT-II (Davis and Mermelstein 1980, IEEE Trans ASSP 28:357-366; form from memory). Silence gives zeros.
[[nodiscard]] std::array<double, mfcc_count> mfcc(std::span<const float> stretch, dsp::SampleRate rate);

} // namespace retap::validate
