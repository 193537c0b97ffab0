// When the energy of one tap arrives, band by band: contacts that land apart bring theirs in steps.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"
#include "dsp/filters/butterworth.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

struct ArrivalSettings {
    double window_ms = 10.0;  ///< energy counts from `early_ms` before the onset to so long after it
    double early_ms = 1.0;    ///< a light first contact may have been missed by the onset
    double quiet_ms = 10.0;   ///< noise is measured in so much before that ..
    double settling_ms = 5.0; ///< .. and the filters settle in so much before
    double min_ratio = 3.0;   ///< least energy in the window, in energies of the noise, that shows a profile
};

/// Keeps its filters and what they do to a click.
///
/// Method: the energy that arrives in a band, less the noise expected in it, as a share of what arrives until 10 ms
/// after the onset. The filters delay a sound by a fraction of a millisecond and spread it: from each time the same
/// share's time of a single sample at the onset is taken off, so that a click gives zeros; a tone builds up
/// over the bandwidth and is told some half of 1/B late (0.7, 0.2 and 0.06 ms). Gain, polarity and an offset have no
/// effect. Fails to
/// show contacts nearer than the ringing of the sound is long: the profile is that of sound and contacts together, and
/// serves to compare taps with each other.
class ArrivalMeter {
public:
    ArrivalMeter(SampleRate rate, const ArrivalSettings& settings);

    /// One entry for each of `arrival_bands`. `onset` counts from the excerpt's first sample; 16 ms before it and 10
    /// ms after it must be there, otherwise there is nothing to tell.
    [[nodiscard]] std::array<ArrivalTimes, arrival_bands.size()> measure(std::span<const float> excerpt,
                                                                         Position onset) const;

private:
    struct Filter {
        Butterworth above;
        Butterworth below;
    };
    [[nodiscard]] ArrivalTimes times(const Filter& filter, std::vector<double> sound, double part) const;

    SampleRate rate_;
    std::size_t settling_;
    std::size_t quiet_;
    std::size_t early_;
    std::size_t window_;
    double min_ratio_;
    std::vector<Filter> filters_;
    std::vector<std::array<double, arrival_shares.size()>> click_;
};

} // namespace retap::dsp
