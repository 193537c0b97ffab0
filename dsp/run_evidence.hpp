// Whether what was found is a run of taps, and whether a sound off its beat belongs to it.
#pragma once

#include "dsp/chain_limits.hpp"
#include "dsp/run_member.hpp"

#include <cstddef>
#include <span>

namespace retap::dsp {

/// The limits of a run.
struct RunLimits {
    Oddness oddness;
    std::size_t least_taps = 3; ///< fewer like events than this are no run
    double alike = 2.5;         ///< two events may found a run when their oddness to each other is below this
    double together_s = 8.0;    ///< and they are no further apart than this
    ChainLimits chain;
    double shortest_interval_s = 0.2;    ///< nobody taps faster (common practice, no source)
    double least_evidence = 4.0;         ///< a run has this much more than the best of so many unlike sounds by chance,
    double least_for_each = 1.75;        ///< and for each of its members this: two sounds of one talker or one tray are
                                         ///< not unlike, so that a sum of many may say too much;
    double least_for_steady = 0.5;       ///< or this, where so many as below keep a steady beat
    double most_level_apart_db = 18.0;   ///< from the median of the run: nobody taps eight times as hard as usual;
    double widest_level_apart_db = 26.0; ///< from that of the few it is known by while it is sought
    double least_prominence = 8.0;       ///< a run whose events are less prominent than this in the middle is none,
    std::size_t steady_taps = 5;         ///< unless so many of them keep a beat as steadily as people do
    double faintest = 4.0;               ///< and are at least this prominent in the middle
    double least_likeness = 3.5;         ///< of an event off the beat, when there are as many other sounds as taps
    double nearest_off_beat = 0.55;      ///< it is no nearer to a tap than this part of the interval, as echoes are,
    double nearest_to_closest = 0.8;     ///< or this part of the run's own shortest
    double longest_pause_s = 1.3;        ///< between neighbours of a run, or
    double pause_factor = 2.2;           ///< this many times the run's median interval, whichever is longer
};

/// What speaks for `members` (three or more, by time) being one run on the beat of `run` rather than as many sounds
/// that have nothing to do with each other: their likeness to each other, held against what a run and what strangers
/// usually have rather than against their own, the steps between them, and whether each convinces by itself.
[[nodiscard]] double evidence_for(std::span<const RunMember* const> members, const Run& run, const Oddness& scales,
                                  const ChainLimits& limits = {});

/// Whether the event is no further than `most_apart_db` from the level of the run, louder or softer.
[[nodiscard]] bool level_possible(const RunMember& event, const Run& run, double most_apart_db);

/// Whether `members` of `candidates` (both by time) are a run on the beat of `run`: what speaks for them (evidence_for)
/// is held against the number of ways in which so many could have been chosen from the sounds around them, since the
/// more there are, the better some go together by chance; and against their own number.
[[nodiscard]] bool is_run(std::span<const RunMember* const> members, const Run& run,
                          std::span<const RunMember* const> candidates, const RunLimits& limits);

/// Whether a stretch of events, one or more by time, is so much like the other `members` (by time) of a run that the
/// beat of the run need not speak for it: each convinces by itself, is as sudden as they are and at a level they may
/// have, and together they are likelier some of them than some of the `others`, which are the sounds as sudden that are
/// none.
[[nodiscard]] bool unmistakable(std::span<const RunMember* const> stretch, std::span<const RunMember* const> members,
                                const Run& run, std::size_t others, const RunLimits& limits);

} // namespace retap::dsp
