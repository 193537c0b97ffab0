// Third-octave bands on base 10 and the energy a spectrum has in each.
#pragma once

#include "dsp/base/units.hpp"

#include <complex>
#include <span>
#include <vector>

namespace retap::dsp {

/// One band of IEC 61260-1:2014, base-10 system: G = 10^(3/10), centre 1000 G^(k/3) Hz, edges centre times G^(-1/6)
/// and G^(+1/6). Band 0 is centred on 1 kHz, -10 on 100 Hz, +10 on 10 kHz.
struct FrequencyBand {
    Frequency centre;
    Frequency lower;
    Frequency upper;
};

[[nodiscard]] FrequencyBand third_octave_band(int index);

/// The bands first..last, both included; empty when first is above last.
[[nodiscard]] std::vector<FrequencyBand> third_octave_bands(int first, int last);

/// Energy of a real signal at each bin 0..size/2 of its transform (dsp/filters/fft, not scaled; `size` is the
/// transform's length, even): |X|^2 / size, doubled for the bins that stand for two. They add up to the sum of squares
/// of the signal (Parseval).
[[nodiscard]] std::vector<double> bin_energies(std::span<const std::complex<float>> spectrum);

/// Energy in each band, when bin k holds the energy from (k - 1/2) to (k + 1/2) times `spacing`: a bin that
/// straddles an edge is shared out by width. Adjoining bands lose nothing and count nothing twice. This is a
/// rectangular division of the spectrum, not the filter set of the standard: only centres and edges are its. A band
/// narrower than a bin gets its share of that bin; what lies above the last bin is zero.
[[nodiscard]] std::vector<double> band_energies(std::span<const double> bins, Frequency spacing,
                                                std::span<const FrequencyBand> bands);

} // namespace retap::dsp
