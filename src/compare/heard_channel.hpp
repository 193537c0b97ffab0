// Which channel of its takes a comparison listens to.
#pragma once

#include "dsp/base/take.hpp"

#include <span>

namespace retap::compare {

enum class HeardChannel { mean, left, right };

/// The channel in which the usable taps of all these takes together stand further over the quiet before them, in
/// decibels; the left one of two equal ones. The mean where a take, or a tap of it, has one channel only.
///
/// Two pick-ups hear an impact along different ways, so that their mean has notches, and these wander when either is
/// put back: an unchanged bite of the tests has a likeness of 41 by the mean of two and of 95 by one. Both sides of a
/// comparison must be heard by the same one.
[[nodiscard]] HeardChannel heard_channel(std::span<const dsp::TakeAnalysis> before,
                                         std::span<const dsp::TakeAnalysis> after);

/// What that channel heard of a tap.
[[nodiscard]] std::span<const float> sound_in(const dsp::Excerpt& excerpt, HeardChannel channel);

} // namespace retap::compare
