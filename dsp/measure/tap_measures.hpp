// One tap's sound measured: everything that needs only this tap and its neighbours in time.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/tap_recording.hpp"
#include "dsp/base/units.hpp"
#include "dsp/measure/arrival_profile.hpp"
#include "dsp/measure/impact.hpp"

#include <optional>

namespace retap::dsp {

/// What measures taps, one after another.
struct TapMeters {
    explicit TapMeters(SampleRate rate) : impact(rate), arrivals(rate) {}

    ImpactMeter impact;
    ArrivalMeter arrivals;
};

/// Fills the impact measures, the timing profile and, for two channels, which side leads, of `tap`; its excerpt becomes
/// the mono sound with its offset removed. A tap that does not stand clear of the noise, or is followed too soon, is
/// marked not usable, with the reason.
void measure_tap(Tap& tap, const TapRecording& sound, Level noise, std::optional<double> next_onset_index,
                 TapMeters& meters, SampleRate rate);

} // namespace retap::dsp
