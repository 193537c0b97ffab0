#include "dsp/base/window.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::dsp {

namespace {

// w(u) = a0 - a1 cos(2 pi u) + a2 cos(4 pi u) - a3 cos(6 pi u), u = n/size
std::array<double, 4> cosine_terms(WindowKind kind) {
    switch (kind) {
    case WindowKind::hann:
        return {0.5, 0.5, 0.0, 0.0};
    case WindowKind::hamming:
        return {0.54, 0.46, 0.0, 0.0};
    case WindowKind::blackman:
        return {0.42, 0.5, 0.08, 0.0};
    case WindowKind::blackman_harris:
        return {0.35875, 0.48829, 0.14128, 0.01168};
    case WindowKind::rectangle:
        break;
    }
    return {1.0, 0.0, 0.0, 0.0};
}

double rising_weight(std::size_t i, std::size_t n) {
    const double u = (static_cast<double>(i) + 0.5) / static_cast<double>(n);
    return 0.5 - 0.5 * std::cos(std::numbers::pi * u);
}

} // namespace

std::vector<float> make_window(WindowKind kind, std::size_t size) {
    const std::array<double, 4> a = cosine_terms(kind);
    std::vector<float> window(size);
    for (std::size_t n = 0; n < size; ++n) {
        const double angle = 2.0 * std::numbers::pi * static_cast<double>(n) / static_cast<double>(size);
        window[n] = static_cast<float>(a[0] - a[1] * std::cos(angle) + a[2] * std::cos(2.0 * angle) -
                                       a[3] * std::cos(3.0 * angle));
    }
    return window;
}

double coherent_gain(std::span<const float> window) {
    assert(!window.empty());
    double sum = 0.0;
    for (const float w : window) {
        sum += static_cast<double>(w);
    }
    return sum / static_cast<double>(window.size());
}

double noise_bandwidth_bins(std::span<const float> window) {
    double sum = 0.0;
    double squares = 0.0;
    for (const float w : window) {
        sum += static_cast<double>(w);
        squares += static_cast<double>(w) * static_cast<double>(w);
    }
    assert(sum != 0.0);
    return static_cast<double>(window.size()) * squares / (sum * sum);
}

void fade_in(std::span<float> samples) {
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i] = static_cast<float>(static_cast<double>(samples[i]) * rising_weight(i, samples.size()));
    }
}

void fade_out(std::span<float> samples) {
    const std::size_t n = samples.size();
    for (std::size_t i = 0; i < n; ++i) {
        samples[i] = static_cast<float>(static_cast<double>(samples[i]) * rising_weight(n - 1 - i, n));
    }
}

} // namespace retap::dsp
