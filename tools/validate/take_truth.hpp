// What is true of a take, in the few numbers that explain how it must sound.
#pragma once

#include "bite/make_take.hpp"

#include <span>

namespace retap::validate {

/// Medians over the taps of a take.
struct TakeTruth {
    double contacts = 0.0;  ///< that meet within the first millisecond, each point of each pair once
    double lone = 0.0;      ///< share of the taps in which that is one
    double next_ms = 0.0;   ///< from the first contact to the first of another pair; 80 when none follows
    double spread_ms = 0.0; ///< from the first contact to the last pair's first meeting
    double mean_ms = 0.0;   ///< how long after the first the contacts come, weighted by their impulses
    double peak_db = 0.0;   ///< of the clean sound as the first pick-up hears it, re full scale
};
/// Zeros without taps.
[[nodiscard]] TakeTruth take_truth(std::span<const bite::TapTruth> taps);

} // namespace retap::validate
