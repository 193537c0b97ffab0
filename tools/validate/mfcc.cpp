#include "validate/mfcc.hpp"

#include "dsp/base/window.hpp"
#include "dsp/filters/fft.hpp"
#include "dsp/filters/third_octave.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace retap::validate {

namespace {

constexpr std::size_t triangles = 26;
constexpr double lowest_hz = 100.0;
constexpr double highest_hz = 16000.0;
constexpr double silence = 1e-20; // energy under which a triangle counts as empty

double to_mel(double hz) {
    return 2595.0 * std::log10(1.0 + hz / 700.0);
}

double to_hz(double mel) {
    return 700.0 * (std::pow(10.0, mel / 2595.0) - 1.0);
}

std::array<double, triangles> mel_energies(std::span<const double> bins, double spacing_hz, double top_hz) {
    std::array<double, triangles> energies{};
    const double low = to_mel(lowest_hz);
    const double step = (to_mel(top_hz) - low) / (triangles + 1);
    for (std::size_t t = 0; t < triangles; ++t) {
        const double left = to_hz(low + step * static_cast<double>(t));
        const double centre = to_hz(low + step * static_cast<double>(t + 1));
        const double right = to_hz(low + step * static_cast<double>(t + 2));
        for (std::size_t k = 0; k < bins.size(); ++k) {
            const double hz = spacing_hz * static_cast<double>(k);
            const double weight = hz < centre ? (hz - left) / (centre - left) : (right - hz) / (right - centre);
            energies.at(t) += std::max(0.0, weight) * bins[k];
        }
    }
    return energies;
}

} // namespace

std::array<double, mfcc_count> mfcc(std::span<const float> stretch, dsp::SampleRate rate) {
    std::array<double, mfcc_count> coefficients{};
    if (stretch.empty()) {
        return coefficients;
    }
    std::vector<float> tapered(stretch.begin(), stretch.end());
    const std::vector<float> window = dsp::make_window(dsp::WindowKind::hann, tapered.size());
    for (std::size_t i = 0; i < tapered.size(); ++i) {
        tapered[i] *= window[i];
    }
    dsp::RealFft fft(dsp::fast_fft_size(tapered.size() + tapered.size() % 2));
    const std::vector<double> bins = dsp::bin_energies(fft.forward(tapered));
    const double top_hz = std::min(highest_hz, 0.45 * rate.hz());
    const auto energies = mel_energies(bins, rate.hz() / static_cast<double>(fft.size()), top_hz);
    for (std::size_t c = 0; c < mfcc_count; ++c) {
        for (std::size_t t = 0; t < triangles; ++t) {
            const double angle =
                std::numbers::pi * static_cast<double>(c + 1) * (static_cast<double>(t) + 0.5) / triangles;
            coefficients.at(c) += std::log(std::max(energies.at(t), silence)) * std::cos(angle);
        }
        coefficients.at(c) *= std::sqrt(2.0 / triangles);
    }
    return coefficients;
}

} // namespace retap::validate
