// Up to which frequency a take holds anything of its taps.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"

#include <optional>
#include <span>

namespace retap::dsp {

struct Bandwidth {
    /// Up to where the taps stand out of the noise, in steps of 250 Hz; 0 when nowhere.
    double taps_hz = 0.0;
    /// Where the recording ends like at a wall, so that even the noise is missing above: a low sample rate somewhere on
    /// the way (telephone band, wireless headset), or lossy coding.
    std::optional<double> wall_hz;
};

/// From the excerpts of the usable taps, at `rate`; others are passed over, and so are excerpts with less than 10 ms
/// before the onset or 20 ms after it. Mean energy over the taps from 1 ms before to 20 ms after the onset, against the
/// noise from the excerpts' beginnings, in slots of 250 Hz. Stands out: 6 dB over the noise and at most 60 dB below the
/// strongest slot, two slots in a row. Wall: everything from 1 kHz higher on is 30 dB lower, at 1.5 kHz or above. The
/// wall is good to 500 Hz, the other to the 2 dB to which a few taps know the noise. Neither without usable taps.
[[nodiscard]] Bandwidth measure_bandwidth(std::span<const Tap> taps, SampleRate rate);

} // namespace retap::dsp
