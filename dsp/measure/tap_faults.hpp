// Faults of a recording that spoil one of its taps.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"
#include "dsp/stream/signal_faults.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

struct TapFaults {
    bool clipped = false; ///< from its onset to 35 ms after it, the impact itself
    bool broken = false;  ///< sound is missing or heard twice there, or within 5 ms before it
    [[nodiscard]] bool any() const { return clipped || broken; }
};

/// Of the tap that begins at `onset`: what was `seen` in the samples, and the `gaps` that nothing is timed across. All
/// at `rate`, from the start of the recording.
[[nodiscard]] TapFaults faults_of_tap(Position onset, const SignalFaults& seen, std::span<const SampleRun> gaps,
                                      SampleRate rate);

/// As a tap keeps them.
[[nodiscard]] std::vector<Unusable> reasons_of(const TapFaults& faults);

} // namespace retap::dsp
