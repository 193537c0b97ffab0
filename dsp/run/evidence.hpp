// Whether what was found is a run of taps, and whether a sound off its beat belongs to it.
#pragma once

#include "dsp/run/features.hpp"
#include "dsp/run/settings.hpp"

#include <cstddef>
#include <span>

namespace retap::dsp {

/// What speaks for `members` (three or more, by time) being one run on the beat of `run` rather than as many sounds
/// that have nothing to do with each other: their likeness to each other, held against what a run and what strangers
/// usually have rather than against their own, the steps between them, and whether each convinces by itself.
[[nodiscard]] double evidence_for(std::span<const RunMember* const> members, const Run& run, const Oddness& scales,
                                  const ChainLimits& limits);

/// Whether the event is no further than `max_apart_db` from the level of the run, louder or softer.
[[nodiscard]] bool level_possible(const RunMember& event, const Run& run, double max_apart_db);

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
