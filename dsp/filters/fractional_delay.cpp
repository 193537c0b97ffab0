#include "dsp/filters/fractional_delay.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace retap::dsp {

namespace {

constexpr std::ptrdiff_t half_width = 32;
constexpr std::size_t width = 64;
using Kernel = std::array<double, width>;

// Weights of samples -31..32 about the point `fraction` (0..1) after sample 0.
Kernel interpolation_kernel(double fraction) {
    constexpr double beta = 9.0;
    const double scale = std::cyl_bessel_i(0.0, beta);
    Kernel kernel{};
    for (std::size_t i = 0; i < width; ++i) {
        const double x = static_cast<double>(static_cast<std::ptrdiff_t>(i) - half_width + 1) - fraction;
        const double u = x / static_cast<double>(half_width);
        const double window = std::cyl_bessel_i(0.0, beta * std::sqrt(std::max(0.0, 1.0 - u * u))) / scale;
        const double sinc = x == 0.0 ? 1.0 : std::sin(std::numbers::pi * x) / (std::numbers::pi * x);
        kernel[i] = window * sinc;
    }
    return kernel;
}

} // namespace

std::vector<float> delayed(std::span<const float> signal, Length delay) {
    std::vector<float> result(signal.size(), 0.0F);
    const auto count = static_cast<std::ptrdiff_t>(signal.size());
    if (!(std::abs(delay.samples()) < static_cast<double>(count + half_width))) {
        return result;
    }
    // output n is the input at n - delay = n + whole + fraction
    const double whole = std::floor(-delay.samples());
    const double fraction = -delay.samples() - whole;
    const auto shift = static_cast<std::ptrdiff_t>(whole);
    if (fraction == 0.0) {
        for (std::ptrdiff_t n = std::max<std::ptrdiff_t>(0, -shift); n < std::min(count, count - shift); ++n) {
            result[static_cast<std::size_t>(n)] = signal[static_cast<std::size_t>(n + shift)];
        }
        return result;
    }
    static const Kernel halfway = interpolation_kernel(0.5); // asked for with every tap
    const Kernel kernel = fraction == 0.5 ? halfway : interpolation_kernel(fraction);
    for (std::ptrdiff_t n = 0; n < count; ++n) {
        const std::ptrdiff_t first = n + shift - half_width + 1;
        const std::ptrdiff_t from = std::max<std::ptrdiff_t>(0, -first);
        const std::ptrdiff_t to = std::min<std::ptrdiff_t>(width, count - first);
        double sum = 0.0;
        for (std::ptrdiff_t i = from; i < to; ++i) {
            sum +=
                kernel[static_cast<std::size_t>(i)] * static_cast<double>(signal[static_cast<std::size_t>(first + i)]);
        }
        result[static_cast<std::size_t>(n)] = static_cast<float>(sum);
    }
    return result;
}

} // namespace retap::dsp
