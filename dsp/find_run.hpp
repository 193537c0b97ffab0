// Which events of a recording form the run of taps.
#pragma once

#include "dsp/beat_chain.hpp"
#include "dsp/run_member.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// The limits of a run.
struct RunLimits {
    Oddness oddness;
    std::size_t least_taps = 3; ///< fewer like events than this are no run
    double alike = 2.5;         ///< two events may found a run when their oddness to each other is below this
    double together_s = 8.0;    ///< and they are no further apart than this
    ChainLimits chain;
    double shortest_interval_s = 0.2;  ///< nobody taps faster (common practice, no source)
    double least_evidence = 2.75;      ///< less speaks for each of its members: no run (ChainLimits)
    double most_level_apart_db = 18.0; ///< from the median of the run: nobody taps eight times as hard as usual
    double least_prominence = 8.0;     ///< a run whose events are less prominent than this in the middle is none,
    std::size_t steady_taps = 5;       ///< unless so many of them keep a beat as steadily as people do
    double faintest = 4.0;             ///< and are at least this prominent in the middle
    double longest_pause_s = 1.3;      ///< between neighbours of a run, or
    double pause_factor = 2.2;         ///< this many times the run's median interval, whichever is longer
};

/// The events of the run among `candidates`, by time as they are (asserted further down); none when there is no run.
///
/// Method: events that are like each other in imprint, level and abruptness found a run, those with the most prominent
/// company first; then what the run has in common and the chain of events for which most speaks (best_chain) are found
/// in turns until nothing changes. The founders may be every second or third tap only, so a half and a third of their
/// interval are tried as well. Taps of a second kind join when both together keep one beat. No run is what has too
/// little evidence for each of its members, or is no more than the restlessness of the background.
[[nodiscard]] std::vector<const RunMember*> find_run(std::span<const RunMember* const> candidates,
                                                     const RunLimits& limits);

} // namespace retap::dsp
