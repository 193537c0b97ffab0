// What the sound of an event speaks for its being one of a run: how like it is to the members it is most like.
#pragma once

#include "dsp/run/features.hpp"
#include "dsp/run/settings.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

/// The likeness of `event` to `members` (by time), in natural logarithms of a likelihood ratio: a tap of the run
/// against a sound that has nothing to do with it.
///
/// Method: the mean pattern_distance() to the few it is most like of those around it in time, itself left out, under
/// two normal distributions of its logarithm: about what a run usually has, and about what strangers have. Both are in
/// parts of the run's pattern_spread(), so they are the same at every noise; the nearest of several strangers are
/// nearer than usual, and that is allowed for. Nearer than usual is no less a tap, farther than usual no less a
/// stranger. Taps of more than one kind need not be like their median. It has no limit: for an event that no beat
/// speaks for.
[[nodiscard]] double pattern_log_odds(std::span<const RunMember* const> members, const RunMember& event, const Run& run,
                                      const ChainLimits& limits);

/// The same within `max_like` and `max_strange`, so that no sound outweighs every beat.
[[nodiscard]] double limited_pattern_log_odds(std::span<const RunMember* const> members, const RunMember& event,
                                              const Run& run, const ChainLimits& limits);

/// The likeness of each of `candidates` within these limits, held against the distance that the members of this very
/// run have from each other, in place of what runs usually have.
[[nodiscard]] std::vector<double> pattern_log_odds_of_each(std::span<const RunMember* const> candidates,
                                                           std::span<const RunMember* const> members, const Run& run,
                                                           const ChainLimits& limits);

} // namespace retap::dsp
