// Why an event is not a tap. Each rule looks at one property and can only say no.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/find/event_shape.hpp"

#include <optional>

namespace retap::dsp {

/// The limits the rules compare with.
struct TapLimits {
    Level min_over_noise{3.0};
    double min_prominence = 8.0; ///< what gurgles and syllables seldom reach
    double longest_rise_ms =
        45.0; ///< contacts of one tap lie at most 30 ms apart; a struck rim takes 12 ms to its peak
    double longest_fall_ms = 160.0; ///< a recorded rim click falls by 20 dB in up to 110 ms
    Level min_jump{6.0};
    Level max_before{-6.0}; ///< a tap comes out of a quiet moment
    Level max_after{-10.0}; ///< and is over before the next could come
    double max_busy = 0.7;
    Level max_below{20.0};
    std::size_t min_octaves = 2;
};

/// The first rule that says no gives its reason; nullopt when none does.
[[nodiscard]] std::optional<NoTap> not_a_tap(const EventShape& shape, const TapLimits& limits);

} // namespace retap::dsp
