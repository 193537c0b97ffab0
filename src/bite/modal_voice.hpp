// What a pick-up hears of one closing through the modes of the skull.
#pragma once

#include "bite/closing.hpp"
#include "bite/patient.hpp"
#include "bite/pickup.hpp"

#include <vector>

namespace retap::bite {

/// A stretch of sound on a clock of its own: sample n belongs to start_s + n / rate_hz.
struct Stretch {
    double rate_hz = 0.0;
    double start_s = 0.0;
    std::vector<double> samples{};
};

/// Drives each mode (damped oscillator, exact for forces that run straight between two frames) with the forces of the
/// teeth, each delayed by its path to the pick-up, and sums the velocities of the modes with the pick-up's gains.
/// Rings on until every mode is 60 dB down. Clock: that of the closing. Modes at or above half the force rate are
/// left out.
[[nodiscard]] Stretch hear_closing(const Closing& closing, const Patient& patient, const Pickup& pickup);

} // namespace retap::bite
