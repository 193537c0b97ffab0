// One tap's sound measured: everything that needs only this tap and its neighbours in time.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"
#include "dsp/filters/gcc.hpp"
#include "dsp/measure/arrival_profile.hpp"
#include "dsp/measure/impact.hpp"
#include "dsp/measure/level_balance.hpp"

#include <optional>

namespace retap::dsp {

struct MeasureSettings {
    ImpactSettings impact;
    ArrivalSettings arrival;
    LeadSettings lead; ///< two channels only, and so the next
    BalanceSettings balance;
};

/// What measures taps, one after another.
struct TapMeters {
    TapMeters(SampleRate rate, const MeasureSettings& settings)
        : impact(rate, settings.impact), arrivals(rate, settings.arrival), lead(settings.lead),
          balance(settings.balance) {}

    ImpactMeter impact;
    ArrivalMeter arrivals;
    LeadSettings lead;
    BalanceSettings balance;
};

/// Fills the impact measures, the timing profile and, for two channels, which side leads, of `tap`, from its excerpt as
/// it was recorded; then takes the offset of each channel off that. A tap that does not stand clear of the noise, or is
/// followed too soon, is marked not usable, with the reason.
void measure_tap(Tap& tap, Level noise, std::optional<double> next_onset_index, TapMeters& meters, SampleRate rate);

} // namespace retap::dsp
