// A take is a run of like events: what is unlike the rest, or stands apart from it, is not a tap.
#pragma once

#include "dsp/tap_finder.hpp"
#include "dsp/units.hpp"

#include <vector>

namespace retap::dsp {

/// The limits of a run.
struct RunLimits {
    std::size_t least_taps = 3;   ///< fewer like events than this are no run; nothing is turned down then
    double like_db = 6.0;         ///< RMS difference of two octave spectra, level apart, up to which they are alike
    double scatter_factor = 3.0;  ///< or up to this many times what the run itself shows
    Level most_level_apart{14.0}; ///< from the median of the run
    double longest_pause_s = 1.3; ///< between neighbours of a run, or
    double pause_factor = 2.2;    ///< this many times the run's median interval, whichever is longer
};

/// RMS difference (dB) of two events' octave spectra after their mean level difference is taken off; octaves that are
/// lost in the noise or 25 dB below the strongest count for little.
[[nodiscard]] double spectral_distance(const EventShape& a, const EventShape& b);

/// Turns down (never the other way) taps of a recording that do not belong to its run or runs: unlike the rest in
/// spectrum or level, or standing apart in time. Call it on all events found so far, by time; calling it again changes
/// nothing. With fewer than `least_taps` like events everything stays as it is.
void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits = {});

} // namespace retap::dsp
