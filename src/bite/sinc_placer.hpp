// Lays sound down at exact times, whatever the two sample rates.
#pragma once

#include "bite/modal_voice.hpp"

#include <span>
#include <vector>

namespace retap::bite {

/// Adds `gain` x `sound` to `out` (its first sample at 0 s, at out_rate_hz) so that the sound's own clock zero falls on
/// at_s. Kaiser-windowed sinc, 32 zero crossings a side, cut off at 0.46 of the lower rate: flat within 0.01 dB up to
/// 0.42 of it, images and aliases 90 dB down from 0.5, no delay. What falls outside `out` is dropped.
void add_at(std::span<double> out, double out_rate_hz, const Stretch& sound, double at_s, double gain);

} // namespace retap::bite
