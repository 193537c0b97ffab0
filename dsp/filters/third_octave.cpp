#include "dsp/filters/third_octave.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::dsp {

FrequencyBand third_octave_band(int index) {
    const double k = index;
    // G^(1/3) = 10^(1/10): written so that every tenth centre is a power of ten to the last digit
    return {.centre = Frequency(1000.0 * std::pow(10.0, k / 10.0)),
            .lower = Frequency(1000.0 * std::pow(10.0, (2.0 * k - 1.0) / 20.0)),
            .upper = Frequency(1000.0 * std::pow(10.0, (2.0 * k + 1.0) / 20.0))};
}

std::vector<FrequencyBand> third_octave_bands(int first, int last) {
    std::vector<FrequencyBand> bands;
    for (int k = first; k <= last; ++k) {
        bands.push_back(third_octave_band(k));
    }
    return bands;
}

std::vector<double> bin_energies(std::span<const std::complex<float>> spectrum) {
    assert(spectrum.size() >= 2);
    const double size = 2.0 * static_cast<double>(spectrum.size() - 1);
    std::vector<double> energies(spectrum.size());
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        const auto re = static_cast<double>(spectrum[k].real());
        const auto im = static_cast<double>(spectrum[k].imag());
        const double stands_for = k == 0 || k + 1 == spectrum.size() ? 1.0 : 2.0;
        energies[k] = stands_for * (re * re + im * im) / size;
    }
    return energies;
}

std::vector<double> band_energies(std::span<const double> bins, Frequency spacing,
                                  std::span<const FrequencyBand> bands) {
    assert(spacing.hz() > 0.0);
    std::vector<double> energies;
    energies.reserve(bands.size());
    for (const FrequencyBand& band : bands) {
        const double from = std::max(0.0, band.lower.hz() / spacing.hz() + 0.5); // bin k reaches from k to k + 1
        const double to = std::min(static_cast<double>(bins.size()), band.upper.hz() / spacing.hz() + 0.5);
        double energy = 0.0;
        for (auto k = static_cast<std::size_t>(from); static_cast<double>(k) < to; ++k) {
            const auto begin = static_cast<double>(k);
            energy += (std::min(to, begin + 1.0) - std::max(from, begin)) * bins[k];
        }
        energies.push_back(energy);
    }
    return energies;
}

} // namespace retap::dsp
