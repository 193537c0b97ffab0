#include "dsp/filters/time_stretch.hpp"

#include "dsp/filters/fft.hpp"

#include <cassert>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>

namespace retap::dsp {

namespace {

constexpr std::size_t frame_size = 256;
constexpr std::size_t hop = frame_size / 4;
constexpr double overlap_gain = 1.5; // of squared Hann windows a quarter of a frame apart
constexpr double attack_jump = 8.0;  // in energy, from one hop to the next
using WhiteSpectrum = std::vector<std::complex<float>>;

std::vector<float> hann() {
    std::vector<float> window(frame_size);
    for (std::size_t i = 0; i < frame_size; ++i) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(i) / frame_size;
        window[i] = static_cast<float>(0.5 - 0.5 * std::cos(turn));
    }
    return window;
}

// The windowed frame centred on `centre`, with zeros outside the signal.
WhiteSpectrum frame_at(std::span<const float> signal, std::ptrdiff_t centre, std::span<const float> window,
                       RealFft& fft) {
    std::vector<float> frame(frame_size, 0.0F);
    const std::ptrdiff_t begin = centre - static_cast<std::ptrdiff_t>(frame_size / 2);
    for (std::size_t i = 0; i < frame_size; ++i) {
        const std::ptrdiff_t at = begin + static_cast<std::ptrdiff_t>(i);
        if (at >= 0 && at < std::ssize(signal)) {
            frame[i] = window[i] * signal[static_cast<std::size_t>(at)];
        }
    }
    return fft.forward(frame);
}

double energy(const WhiteSpectrum& spectrum) {
    double sum = 0.0;
    for (const auto& bin : spectrum) {
        sum += static_cast<double>(std::norm(bin));
    }
    return sum;
}

double angle(const std::complex<float>& bin) {
    return static_cast<double>(std::arg(bin));
}

// For each bin the nearest bin that is larger than its neighbours.
std::vector<std::size_t> nearest_peaks(const WhiteSpectrum& spectrum) {
    std::vector<std::size_t> peaks;
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        const bool above_left = k == 0 || std::norm(spectrum[k]) >= std::norm(spectrum[k - 1]);
        const bool above_right = k + 1 == spectrum.size() || std::norm(spectrum[k]) > std::norm(spectrum[k + 1]);
        if (above_left && above_right) {
            peaks.push_back(k);
        }
    }
    std::vector<std::size_t> nearest(spectrum.size(), 0);
    std::size_t at = 0;
    for (std::size_t k = 0; k < nearest.size() && !peaks.empty(); ++k) {
        while (at + 1 < peaks.size() && 2 * k > peaks[at] + peaks[at + 1]) {
            ++at;
        }
        nearest[k] = peaks[at];
    }
    return nearest;
}

// Peaks go on by what they gained over a hop; the bins around keep the angle they have to their peak, so that they
// add up as they did.
void carry_phases(std::vector<double>& phase, const WhiteSpectrum& now, const WhiteSpectrum& before, bool attack) {
    const std::vector<double> last = phase;
    const std::vector<std::size_t> peak_of = nearest_peaks(now);
    for (std::size_t k = 0; k < phase.size(); ++k) {
        const std::size_t peak = peak_of[k];
        phase[k] = attack ? angle(now[k]) : last[peak] + angle(now[k]) - angle(before[peak]);
    }
}

} // namespace

std::vector<float> stretch(std::span<const float> signal, double factor) {
    assert(factor >= 1.0 && factor <= 64.0);
    const auto length = static_cast<std::size_t>(std::llround(factor * static_cast<double>(signal.size())));
    const std::vector<float> window = hann();
    RealFft fft(frame_size);
    std::vector<double> phase(fft.bins(), 0.0);
    std::vector<double> mixed(length + frame_size, 0.0);
    for (std::size_t out = 0; out < length + frame_size / 2; out += hop) { // `out` is the frame's centre
        const std::ptrdiff_t in = std::llround(static_cast<double>(out) / factor);
        WhiteSpectrum now = frame_at(signal, in, window, fft);
        const WhiteSpectrum before = frame_at(signal, in - static_cast<std::ptrdiff_t>(hop), window, fft);
        const bool attack = out == 0 || energy(now) > attack_jump * energy(before);
        carry_phases(phase, now, before, attack);
        for (std::size_t k = 0; k < now.size(); ++k) {
            now[k] = std::polar(std::abs(now[k]), static_cast<float>(std::remainder(phase[k], 2.0 * std::numbers::pi)));
        }
        const std::vector<float> frame = fft.inverse(now);
        for (std::size_t i = 0; i < frame_size && out + i < mixed.size(); ++i) {
            mixed[out + i] += static_cast<double>(window[i] * frame[i]) / overlap_gain;
        }
    }
    std::vector<float> stretched(length);
    for (std::size_t i = 0; i < length; ++i) {
        stretched[i] = static_cast<float>(mixed[i + frame_size / 2]);
    }
    return stretched;
}

} // namespace retap::dsp
