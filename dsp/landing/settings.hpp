// How taps are prepared for their landings, and how these are read.
#pragma once

namespace retap::dsp {

struct LandingSettings {
    double before_ms = 2.0;  ///< of a tap's sound, from so long before its onset
    double after_ms = 20.0;  ///< to so long after it; what rings later adds noise and nothing else
    double fade_in_ms = 0.5; ///< so that the cut does not click
    double fade_out_ms = 5.0;
    double noise_part = 5.0;       ///< a frequency counts in full where the tap is this many times over the noise
    double deepest_db = 60.0;      ///< so far under a tap's strongest frequency nothing is told from leakage
    double full_to_hz = 14000.0;   ///< frequencies up to here count in full
    double none_from_hz = 18000.0; ///< and from here not at all: what a copy at a lower rate may have lost
    double guard_ms = 2.0;         ///< the noise is measured up to so long before the onset
    double search_ms = 5.0;        ///< two taps' main impacts are aligned within this
    double peak_blur_ms = 0.0625;  ///< standard deviation of the smoothing by which the alignment is found
    double blur_ms = 0.083;        ///< and of the energy read at the lags: about the resolution of an 8 kHz band
    double share_ms = 5.0;         ///< energy within so much of the alignment counts as 1
    double same_tap = 0.99; ///< correlation of phases from which two sounds are copies of one tap; others reach 0.96
    /// Density (per ms) that is added before the logarithm. What two taps share by chance lies at 0.05 to 0.1, and how
    /// deep its gaps go says nothing.
    double chance_density = 0.02;
};

} // namespace retap::dsp
