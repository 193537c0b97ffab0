// One tap as the methods that look at all taps of a take together see it.
#pragma once

#include "dsp/base/units.hpp"

#include <span>

namespace retap::dsp {

/// Samples around one tap, one channel, without offset, and where in them the tap begins (may lie between two).
struct TapSound {
    std::span<const float> samples;
    Position onset;
};

} // namespace retap::dsp
