// Which events of a recording form the run of taps.
#pragma once

#include "dsp/run/evidence.hpp"
#include "dsp/run/features.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

/// The events of the run among `candidates`, by time as they are (asserted further down); none when there is no run.
///
/// Method: events that are like each other in pattern, level and abruptness found a run, those with the most prominent
/// company first; then what the run has in common and the chain of events for which most speaks (viterbi_chain) are
/// found in turns until nothing changes, ten at the most. The founders may be every second or third tap only, so a half
/// and a third of their interval are tried as well, and no beat at all for events that convince by themselves. Taps of
/// a second kind join when both together keep one beat, and late or early ones that are unmistakable(). No run is what
/// fails is_run(), or is no more than the restlessness of the background. Where no company is alike enough to found a
/// run, all that convince by themselves do.
[[nodiscard]] std::vector<const RunMember*> find_run(std::span<const RunMember* const> candidates,
                                                     const RunLimits& limits);

} // namespace retap::dsp
