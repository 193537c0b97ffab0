// The floor under every recording.
#pragma once

#include "bite/random.hpp"

#include <span>

namespace retap::bite {

/// Adds white noise and, for the share `pink` (0 to 1) of the power, noise that falls by 3 dB per octave, together of
/// the given RMS. Pink by five one-pole filters an octave-pair apart: within 0.5 dB of the slope from 30 Hz to 0.4 of
/// the rate.
void add_noise(std::span<double> out, double rate_hz, double rms, double pink, Random& random);

} // namespace retap::bite
