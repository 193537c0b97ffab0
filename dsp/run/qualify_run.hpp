// A take is a run of like events on a beat: what is unlike the rest, or stands apart from it, is not a tap.
#pragma once

#include "dsp/base/units.hpp"
#include "dsp/find/tap_finder.hpp"
#include "dsp/run/find_run.hpp"

#include <vector>

namespace retap::dsp {

/// Decides which events of a recording are the taps of its run or runs.
///
/// Method: the run is found among all events that can be taps (find_run). An event that did not convince by itself is a
/// tap if it belongs to the run; one that did is not if it does not belong, and says why. Stretches of fewer than
/// `min_taps` that stand apart are turned down, unless they are unmistakable (dsp/run/evidence). Where no run is
/// found, so are `min_taps` or more convincing events: they are neither alike nor on a beat, and somebody is putting
/// things down; fewer stay as they are. Call it on all events found so far, by time. Fails when something else than
/// taps is as sudden and repeats itself better.
void qualify_run(std::vector<FoundEvent>& events, SampleRate rate, const RunLimits& limits);

} // namespace retap::dsp
