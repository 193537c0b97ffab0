// What an event looks like from afar: the few figures the tap rules go by.
#pragma once

#include "dsp/base/units.hpp"
#include "dsp/find/band_time_pattern.hpp"
#include "dsp/find/event_detector.hpp"

#include <cstddef>
#include <span>

namespace retap::dsp {

/// All from band energies in frames of about 1.3 ms with the noise floor taken off. Levels re full scale (mean square)
/// or relative to the event's own peak, as said.
struct EventShape {
    Level loudness{-300.0};        ///< strongest two frames, all octaves, re full scale
    Level over_noise{-300.0};      ///< that over the noise floor of all octaves
    double rise_ms = 0.0;          ///< from 20 dB below the peak to the peak
    double fall_ms = 0.0;          ///< from the peak until it is 20 dB below it, or in the noise, for 20 ms
    Level jump{-300.0};            ///< steepest growth of the whole within 4 ms, over what was there before
    Level before{-300.0};          ///< the quietest 20 ms of the 80 ms before, re the peak
    Level after{-300.0};           ///< the quietest 20 ms between 40 and 220 ms after, re the peak
    double busy = 0.0;             ///< share of the 0.6 s before and after in which something else sounds
    Level below{-300.0};           ///< what is below 375 Hz (at 48 kHz), re what is above, during the event
    std::size_t octaves_risen = 0; ///< octaves that grew by 6 dB or more with the attack
    std::size_t octaves = 0;       ///< how many there are
    double prominence = 0.0;       ///< as in RoughEvent
    BandTimePattern pattern;
};

[[nodiscard]] EventShape measure_shape(const FrameHistory& history, std::span<const double> floor,
                                       const RoughEvent& event, double frames_per_second);

} // namespace retap::dsp
