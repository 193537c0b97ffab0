// One sound that all taps of a take share, and when each tap plays it: fitted to all of them at once.
#pragma once

#include "dsp/contacts/tap_spectra.hpp"

#include <cstddef>
#include <vector>

namespace retap::dsp {

/// How one tap plays the shared sound k: level x (k(t - delay) + ratio k(t - delay - lag)).
struct Playing {
    double delay_ms = 0.0;
    double log_level = 0.0; ///< natural logarithm of the amplitude
    double lag_ms = 0.0;    ///< may be negative: then the copy comes first
    double ratio = 0.0;     ///< never below 0
};

/// A fit of all taps.
struct KernelFit {
    std::vector<Playing> playing{};
    Spectrum sound{};      ///< the shared one
    double residual = 0.0; ///< sum of squares that is left over all taps and frequencies
};

enum class Arrivals { one, two };

/// Best playing of each tap near `start`, with the shared sound free at every frequency. With Arrivals::one lag and
/// ratio stay as they are; lags keep their sign and stay within `shortest_ms` .. `longest_ms` of 0.
///
/// Method: variable projection (Golub GH, Pereyra V 1973, SIAM J Numer Anal 10:413-432; Kaufman's shorter Jacobian, BIT
/// 15:49-57, 1975; both from memory): the sound is the least-squares one for given times and is not iterated;
/// Levenberg-Marquardt on the rest. Finds the next minimum only: delays and lags must be right to about a quarter of
/// the period of the highest frequency that matters, 0.02 ms at 12 kHz.
[[nodiscard]] KernelFit fit_shared_kernel(const TapSpectra& spectra, std::vector<Playing> start, Arrivals arrivals,
                                          double shortest_ms, double longest_ms, std::size_t max_steps);

} // namespace retap::dsp
