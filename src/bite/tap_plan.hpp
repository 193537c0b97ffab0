// When and how a person taps in one take.
#pragma once

#include "bite/closing.hpp"
#include "bite/patient.hpp"

#include <cstdint>
#include <vector>

namespace retap::bite {

struct PlannedTap {
    double at_s = 0.0; ///< of the closing's clock zero, from the start of the take
    Approach approach{};
};

/// Draws `count` taps: intervals, closing speed, roll, pitch, force and the scatter of each pair, settling over the
/// first taps, about a mean effort and posture that differ a little from take to take. The first is at lead_s.
[[nodiscard]] std::vector<PlannedTap> plan_taps(const Patient& patient, std::uint64_t take, int count, double lead_s);

/// The tap this person makes when nothing scatters; used to set levels.
[[nodiscard]] Approach usual_approach(const Patient& patient);

} // namespace retap::bite
