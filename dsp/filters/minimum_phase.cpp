#include "dsp/filters/minimum_phase.hpp"

#include "dsp/filters/fft.hpp"

#include <cassert>
#include <complex>
#include <cstddef>

namespace retap::dsp {

std::vector<float> minimum_phase(std::span<const double> log_magnitude) {
    assert(log_magnitude.size() >= 3);
    RealFft fft(2 * (log_magnitude.size() - 1));
    std::vector<std::complex<float>> spectrum(log_magnitude.size());
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        spectrum[k] = static_cast<float>(log_magnitude[k]);
    }
    std::vector<float> cepstrum = fft.inverse(spectrum);
    const std::size_t half = fft.size() / 2;
    for (std::size_t n = 1; n < half; ++n) {
        cepstrum[n] *= 2.0F;
    }
    for (std::size_t n = half + 1; n < fft.size(); ++n) {
        cepstrum[n] = 0.0F;
    }
    const std::vector<std::complex<float>> folded = fft.forward(cepstrum);
    std::vector<float> phase(folded.size());
    for (std::size_t k = 0; k < phase.size(); ++k) {
        phase[k] = folded[k].imag();
    }
    return phase;
}

} // namespace retap::dsp
