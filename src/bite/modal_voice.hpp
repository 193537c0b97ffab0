// What a pick-up hears of one closing through the modes of the skull.
#pragma once

#include "bite/closing.hpp"
#include "bite/patient.hpp"
#include "bite/pickup.hpp"

#include <cstdint>
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

/// The modes of somebody whose teeth sound alike: what each tooth puts into a mode moves by `share` (0 to 1) towards
/// that of the tooth that puts in most, one of them for all.
[[nodiscard]] std::vector<SkullMode> alike_teeth(std::vector<SkullMode> modes, double share);

/// The modes as one tap excites them: each tooth is hit beside its usual place and from another side, so that what it
/// puts into each mode is off by N(0, `scatter`) (participations have a standard deviation of about 0.75; M). Which way
/// is fixed by `seed`.
[[nodiscard]] std::vector<SkullMode> vary_blows(std::vector<SkullMode> modes, double scatter, std::uint64_t seed);

} // namespace retap::bite
