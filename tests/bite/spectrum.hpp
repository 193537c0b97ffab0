// Plain helpers for looking at sounds: slow and obvious.
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

namespace retap::bite {

inline double rms(std::span<const double> x) {
    double sum = 0.0;
    for (const double v : x) {
        sum += v * v;
    }
    return std::sqrt(sum / static_cast<double>(std::max<std::size_t>(1, x.size())));
}

/// Fourier sum at one frequency.
inline std::complex<double> spectrum_at(std::span<const double> x, double hz, double rate_hz) {
    std::complex<double> sum = 0.0;
    for (std::size_t n = 0; n < x.size(); ++n) {
        sum += x[n] * std::polar(1.0, -2.0 * std::numbers::pi * hz * static_cast<double>(n) / rate_hz);
    }
    return sum;
}

/// Mean power density between two frequencies, in decibels of an arbitrary reference: blocks of 1024 samples under a
/// Hann window, a DFT every 1.0 bins.
inline double band_db(std::span<const double> x, double low_hz, double high_hz, double rate_hz) {
    constexpr std::size_t block = 1024;
    double power = 0.0;
    std::size_t count = 0;
    for (std::size_t from = 0; from + block <= x.size(); from += block) {
        std::vector<double> part(x.begin() + static_cast<std::ptrdiff_t>(from),
                                 x.begin() + static_cast<std::ptrdiff_t>(from + block));
        for (std::size_t n = 0; n < block; ++n) {
            part[n] *= 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(n) / block);
        }
        for (double hz = low_hz; hz < high_hz; hz += std::max(rate_hz / block, (high_hz - low_hz) / 16.0)) {
            power += std::norm(spectrum_at(part, hz, rate_hz));
            ++count;
        }
    }
    return 10.0 * std::log10(power / static_cast<double>(std::max<std::size_t>(1, count)) + 1e-30);
}

inline double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

} // namespace retap::bite
