// What speaks for an event to be a tap of a run by itself, whatever the beat.
#pragma once

#include "dsp/run/features.hpp"
#include "dsp/run/settings.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

/// Whether an event is as sudden as the taps of `run`, so that it could be one: from the prominence on at which
/// suddenness no longer speaks against it.
[[nodiscard]] bool as_sudden(const RunMember& event, const Run& run, const ChainLimits& limits);

/// What speaks for each of `candidates` by itself, beat or none, when the run is what `run` says of `members` (by time,
/// asserted), both by time: its likeness to the members, its level, how sudden it is, and whether others than taps
/// are heard within a few seconds of it.
[[nodiscard]] std::vector<double> tap_log_odds(std::span<const RunMember* const> candidates,
                                               std::span<const RunMember* const> members, const Run& run,
                                               const ChainLimits& limits);

} // namespace retap::dsp
