// When the taps of a take begin, judged by all of them together: what they share stands further out of the noise.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

struct StackedOnsetSettings {
    std::size_t fewest_taps = 3;
    std::size_t whitening_order = 16;
    double before_ms = 0.5;    ///< taps are laid over each other by this much before their onset ..
    double after_ms = 2.0;     ///< .. to this much after it: the first contacts, before what differs from tap to tap
    double search_ms = 1.5;    ///< the shared onset is sought from this long before the taps' own
    double farthest_ms = 0.5;  ///< a tap that would have to be moved by more keeps its own onset
    double min_likeness = 0.5; ///< correlation with the others; a tap that is less like them keeps its own
    double range_db = 50.0;    ///< what lies further below the peak of the whitened sum is not taken for sound
    /// A contact comes before its sound stands out of the noise by about as long as this sound then takes to gather so
    /// many times the noise's power, but at most `max_climb_ms`: together they take the bias of simulated bites of
    /// six families at 28 to 46 dB peak over noise from 0.08 to 0.12 ms to 0.01 to 0.06; that of recorded single
    /// strokes stays within 0.03, and a damped sine, which begins at once, is told up to 0.06 early.
    double climbed = 300.0;
    double max_climb_ms = 0.07;
};

/// A better onset for each tap, in order; nullopt for one that keeps its own. `taps` are those of one take, each with
/// about 20 ms of quiet before its onset, which is known to a few tenths of a millisecond.
///
/// Method: the taps are whitened by one model of the noise before them and laid over each other by cross-correlation,
/// each against the sum of the others. Their sum, weighted by level over noise power (the weights that make most of a
/// shared sound, as in maximal-ratio combining; Brennan 1959, from memory), stands up to 10 log10(taps) dB further out
/// of the noise; the onset is picked in it once (aic_pick), put back by the climb, and handed back to each tap
/// through its place.
///
/// A light first contact whose lead varies from tap to tap limits this: it is blurred in the sum by as much, and each
/// tap is placed by its stronger sound. Places in the sum are whole samples. What is left is a
/// bias of some 0.02 to 0.07 ms at 24 dB peak over noise (simulated), and how long a climb takes differs from patient
/// to patient by some 0.05 ms, which nothing in it tells.
[[nodiscard]] std::vector<std::optional<Position>> stacked_onsets(std::span<const TapSound> taps, SampleRate rate,
                                                                  const StackedOnsetSettings& settings);

} // namespace retap::dsp
