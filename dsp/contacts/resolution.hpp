// How near two contacts may lie before they sound like one.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <span>

namespace retap::dsp {

/// Width, summed up, of all frequencies at which the taps stand out of the noise: energy of the taps together over the
/// 8 ms from 1 ms before their onsets, in slots of 500 Hz, at least 6 dB over the noise measured before them and at
/// most 60 dB below the strongest slot. 0 when there is none. Taps with less than 5 ms before the onset or 8 ms after
/// it are passed over. Good to one slot where the spectrum leaves the noise steeply.
[[nodiscard]] Frequency usable_bandwidth(std::span<const TapSound> taps, SampleRate rate);

} // namespace retap::dsp
