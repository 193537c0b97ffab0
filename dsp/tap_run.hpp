// A take is a run of like events on a beat: what is unlike the rest, or stands apart from it, is not a tap.
#pragma once

#include "dsp/run_member.hpp"
#include "dsp/tap_finder.hpp"
#include "dsp/units.hpp"

#include <vector>

namespace retap::dsp {

/// The limits of a run.
struct RunLimits {
    Oddness oddness;
    std::size_t least_taps = 3; ///< fewer like events than this are no run
    double alike = 2.5;         ///< two events may found a run when their oddness to each other is below this
    double together_s = 8.0;    ///< and they are no further apart than this
    double most_odd = 5.0;      ///< an event whose oddities add up to more does not belong, but ...
    double among_taps = 5.0;    ///< ... so much more is allowed between two taps of the run
    double on_the_beat = 2.0;   ///< and so much, by degrees, on its beat,
    double as_sudden = 10.0;    ///< both only to events no less prominent than this part of what is usual in the run
    double most_level_apart_db = 18.0; ///< from the median of the run: nobody taps eight times as hard as usual
    double widest_gap = 4.5;           ///< between two taps is where they are no more than so many intervals apart
    double least_prominence = 8.0;     ///< a run whose events are less prominent than this in the middle is none,
    std::size_t steady_taps = 5;       ///< unless so many of them keep a beat as steadily as people do
    double faintest = 4.0;             ///< and are at least this prominent in the middle
    double longest_pause_s = 1.3;      ///< between neighbours of a run, or
    double pause_factor = 2.2;         ///< this many times the run's median interval, whichever is longer
};

/// Decides which events of a recording are the taps of its run or runs.
///
/// Method: events that are like each other in imprint, level and abruptness found a run, those with the most prominent
/// company first; then the run's medians and scatters and the events that fit them are found in turns until nothing
/// changes. Rhythm helps those on it, and costs the others only so much: people pause. An event that did not convince
/// by itself is a tap if it fits the run; one that did is not if it does not fit, and says why. Stretches of fewer than
/// `least_taps` that stand apart are turned down.
/// Call it on all events found so far, by time. When too few are alike, or they are no more than the restlessness of
/// the background, all stays as it is. Fails when something else than taps is as sudden and repeats itself better.
void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits = {});

} // namespace retap::dsp
