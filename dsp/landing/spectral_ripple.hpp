// The ripple that a second impact leaves in a tap's spectrum.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

struct SpectralRippleSettings {
    double before_ms = 2.0; ///< of a tap's sound, from so long before its onset
    double after_ms = 25.0; ///< to so long after it
    double fade_ms = 5.0;   ///< at its end
    double from_hz = 300.0; ///< frequencies that are looked at
    double to_hz = 13000.0;
    double min_delay_ms = 0.25; ///< delays that are looked for: below, a ripple is as wide as the colour of a sound
    double max_delay_ms = 6.5;
    double step_ms = 0.02; ///< from one delay to the next; coarser, and the highest frequencies miss a ripple
    double wander = 0.05;  ///< by so much the delay of one tap may differ from that of another, relative
};

/// For each tap of a group the ripple at each delay, nepers: half the height of an even ripple with that period.
struct SpectralRipples {
    std::vector<double> delays_ms;
    std::vector<std::vector<double>> of_tap; ///< as many values as delays; all 0 where a tap does not reach far enough
};

/// How much of the taps' spectra ripples with the period of each delay.
///
/// Method: a sound followed by itself, t later and a times as strong, has its spectrum multiplied by 1 + a exp(-i w t),
/// and the logarithm of that ripples with period 1/t and height a (the cepstrum; Bogert BP, Healy MJR, Tukey JW 1963,
/// from memory). Each logarithm is weighed by how far the taps of all together stand out of the noise at a frequency,
/// less its straight trend, and set against a cosine of each delay; the highest value near a delay counts. Each tap is
/// held against itself alone: taps may sound as different from each other as they like. Gain, polarity, offset and
/// onset have no effect. What a sound has of ripple by itself is in it too: only a difference between two groups of the
/// same sounds says something. A second contact that sounds quite unlike the first leaves no ripple.
[[nodiscard]] SpectralRipples spectral_ripples(std::span<const TapSound> taps, SampleRate rate,
                                               const SpectralRippleSettings& settings = {});

} // namespace retap::dsp
