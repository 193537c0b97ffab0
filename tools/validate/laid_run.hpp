// How a run of taps is laid that the validation mixes by itself: eight of them, two to three a second.
#pragma once

#include "dsp/base/take.hpp"

#include <cmath>
#include <cstddef>

namespace retap::validate {

inline constexpr double laid_rate_hz = dsp::analysis_rate_hz;
inline constexpr int laid_taps = 8;
inline constexpr double laid_first_s = 0.4;
inline constexpr double laid_every_s = 0.4;

/// Samples of a run with its quiet before and after.
[[nodiscard]] inline std::size_t laid_samples() {
    return static_cast<std::size_t>((laid_first_s + laid_every_s * laid_taps + 0.2) * laid_rate_hz);
}

/// The factor on an amplitude that `db` decibels make.
[[nodiscard]] inline double amplitude_of(double db) {
    return std::pow(10.0, db / 20.0);
}

} // namespace retap::validate
