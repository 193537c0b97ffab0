#include "bite/sinc_placer.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::bite {

namespace {

constexpr double half_width = 32.0; // zero crossings of the sinc at cut-off 0.5
constexpr double cutoff = 0.46;     // of the lower rate
constexpr double kaiser_beta = 9.0;
constexpr std::size_t points_per_crossing = 512;

double bessel_i0(double x) {
    double sum = 1.0;
    double term = 1.0;
    for (int k = 1; k < 60 && term > 1e-17 * sum; ++k) {
        term *= (0.5 * x / k) * (0.5 * x / k);
        sum += term;
    }
    return sum;
}

// Half of the kernel, over the distance in samples of the lower rate. Straight lines between 512 points a sample err by
// less than 1e-6.
const std::vector<double>& half_kernel() {
    static const std::vector<double> kernel = [] {
        const auto count = static_cast<std::size_t>(half_width) * points_per_crossing;
        std::vector<double> k(count + 2, 0.0);
        for (std::size_t i = 0; i <= count; ++i) {
            const double x = static_cast<double>(i) / points_per_crossing;
            const double angle = 2.0 * std::numbers::pi * cutoff * x;
            const double sinc = i == 0 ? 2.0 * cutoff : 2.0 * cutoff * std::sin(angle) / angle;
            const double r = x / half_width;
            k[i] = sinc * bessel_i0(kaiser_beta * std::sqrt(std::max(0.0, 1.0 - r * r))) / bessel_i0(kaiser_beta);
        }
        return k;
    }();
    return kernel;
}

// Weights of the input samples from `first` (relative to the output sample, in input samples) up to the kernel's end.
void fill_weights(std::vector<double>& weights, double first, double to_lower) {
    const std::vector<double>& kernel = half_kernel();
    const double end = half_width / to_lower;
    weights.clear();
    const auto count = static_cast<std::size_t>(std::max(0.0, std::floor(end - first) + 1.0));
    for (std::size_t k = 0; k < count; ++k) {
        const double at = first + static_cast<double>(k);
        const double place = std::min(half_width, std::abs(at) * to_lower) * points_per_crossing;
        const auto cell = static_cast<std::size_t>(place);
        const double part = place - static_cast<double>(cell);
        weights.push_back(to_lower * (kernel[cell] + part * (kernel[cell + 1] - kernel[cell])));
    }
}

} // namespace

void add_at(std::span<double> out, double out_rate_hz, const Stretch& sound, double at_s, double gain) {
    assert(out_rate_hz > 0.0 && sound.rate_hz > 0.0);
    if (sound.samples.empty() || out.empty() || gain == 0.0) {
        return;
    }
    const double in_rate = sound.rate_hz;
    const double to_lower = std::min(1.0, out_rate_hz / in_rate); // input samples to samples of the lower rate
    const double reach = half_width / to_lower;                   // in input samples
    const double first_s = at_s + sound.start_s;
    const double last_s = first_s + static_cast<double>(sound.samples.size() - 1) / in_rate;
    const double edge_s = reach / in_rate;
    const double from = std::ceil((first_s - edge_s) * out_rate_hz);
    const double to = std::floor((last_s + edge_s) * out_rate_hz);
    if (to < 0.0) {
        return;
    }
    const auto first_out = static_cast<std::size_t>(std::max(0.0, from));
    const std::size_t end_out = std::min(out.size(), static_cast<std::size_t>(to) + 1);
    const auto last_in = static_cast<double>(sound.samples.size() - 1);
    const double ratio = in_rate / out_rate_hz;
    std::vector<double> weights;
    // With a whole number of input samples to an output sample every one of them sees the same fraction.
    const bool same_fraction = ratio == std::floor(ratio);
    double lowest = 0.0;
    for (std::size_t n = first_out; n < end_out; ++n) {
        if (same_fraction && !weights.empty()) {
            lowest += ratio;
        } else {
            const double centre = (static_cast<double>(n) / out_rate_hz - first_s) * in_rate; // in input samples
            lowest = std::ceil(centre - reach);
            fill_weights(weights, lowest - centre, to_lower);
        }
        const auto skip = static_cast<std::size_t>(std::max(0.0, -lowest));
        const auto start = static_cast<std::size_t>(std::max(0.0, lowest));
        const double room = last_in - lowest + 1.0;
        const std::size_t stop = room <= 0.0 ? 0 : std::min(weights.size(), static_cast<std::size_t>(room));
        double sum = 0.0;
        for (std::size_t k = skip; k < stop; ++k) {
            sum += weights[k] * sound.samples[start + k - skip];
        }
        out[n] += gain * sum;
    }
}

} // namespace retap::bite
