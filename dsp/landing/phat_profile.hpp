// How the energy of two taps' correlation lies about its peak: at which distances from a main impact others land.
#pragma once

#include "dsp/base/units.hpp"
#include "dsp/landing/gcc_phat.hpp"
#include "dsp/landing/settings.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace retap::dsp {

/// Lags at which a landing is described, ms; negative: before the main impact. Close where contacts of a balanced bite
/// are, wider where a slide or a rebound would be. 25 um high at 20 to 200 mm/s is 0.125 to 1.25 ms.
inline constexpr std::array<double, 29> phat_lags_ms{-4.0,  -3.0,  -2.4,  -1.9,  -1.5, -1.2, -1.0, -0.8, -0.65, -0.5,
                                                     -0.38, -0.27, -0.17, -0.08, 0.0,  0.08, 0.17, 0.27, 0.38,  0.5,
                                                     0.65,  0.8,   1.0,   1.3,   1.7,  2.2,  3.0,  4.0,  5.5};

/// Energy density at each of phat_lags_ms, dB re all of it within a millisecond.
using PhatProfile = std::array<float, phat_lags_ms.size()>;

struct PhatProfilePair {
    PhatProfile forth{}; ///< the first tap around the main impact of the second
    PhatProfile back{};  ///< and the other way round, which is the correlation backwards
};

/// Reads rows off correlations.
///
/// Method: the squared correlation is blurred with a bell curve at each lag and held against its sum over `share_ms` to
/// both sides of the peak; `chance_density` is added, and the logarithm taken. Amplitude and polarity cancel.
class PhatProfileReader {
public:
    PhatProfileReader(SampleRate rate, const LandingSettings& settings);

    /// `correlation` about the `peak` lag. Silence reads as `chance_density` at every lag.
    [[nodiscard]] PhatProfilePair rows(const GccPhat& correlation, std::ptrdiff_t peak) const;

private:
    [[nodiscard]] double energy(const GccPhat& correlation, std::ptrdiff_t lag) const;
    [[nodiscard]] float density_db(double energy_per_sample, double all) const;

    double samples_a_ms_;
    double chance_density_;
    std::ptrdiff_t share_;
    std::vector<float> bell_;
};

} // namespace retap::dsp
