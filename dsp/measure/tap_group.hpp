// Taps that were cut out of one recording, measured together.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"
#include "dsp/contacts/contacts.hpp"
#include "dsp/measure/tap_measures.hpp"
#include "dsp/onset/stacked_onset.hpp"
#include "dsp/onset/stray_onsets.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>

namespace retap::dsp {

struct GroupSettings {
    StrayOnsetSettings stray_onsets;
    StackedOnsetSettings stacked_onsets;
    ContactSettings contacts;
};

/// A tap on its way from an event to its measures.
struct CutTap {
    std::size_t event = 0;  ///< its number among the events of the recording
    Position found{0.0};    ///< its onset as the finder told it, from the start of the recording
    std::int64_t begin = 0; ///< the sample of the recording with which the excerpt begins
    Tap tap;
    bool clipped = false;
};

/// Measures each of `taps`, by time. `next` is the onset of the tap after the last of them, when one is known;
/// `noise` what they stand in.
///
/// Method: usable taps share most of their sound, so their onsets are picked together first (stacked_onsets); then each
/// is measured up to the onset of its successor (measure_tap), and the contacts of all that are still usable are told
/// apart over one kernel, the sound of one mouth under one pick-up (resolve_contacts).
void measure_together(std::span<CutTap> taps, std::optional<Position> next, Level noise, TapMeters& meters,
                      SampleRate rate, const GroupSettings& settings);

} // namespace retap::dsp
