// One closing of the teeth, integrated in time: when each pair touches, how fast, and what the upper teeth then press
// into the skull.
#pragma once

#include "bite/change.hpp"
#include "bite/patient.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace retap::bite {

/// How this one tap closes.
struct Approach {
    double speed_m_per_s = 0.0; ///< of the first molars at first contact; positive (asserted)
    double roll_m = 0.0;        ///< patient's left molar above the right one when they near each other
    double pitch_m = 0.0;       ///< incisors above the plane of the molars
    double muscle = 1.0;        ///< factor on the muscle's forces
    std::array<double, pair_count> extra_gap_m{}; ///< tap-to-tap scatter of each pair
    std::vector<MoreContact> more{};              ///< contacts beside each pair's first, as they stand in this tap
    std::uint64_t surface_seed = 0;               ///< where on the rough surfaces a slide begins
};

/// How finely to integrate. The defaults keep the first contacts within 0.2 us of those at half the step.
struct ClosingSettings {
    double force_rate_hz = 96000.0; ///< at which forces are handed out
    int steps_per_force = 6;        ///< integration steps between two of them; 1.7 us with the defaults
    double longest_s = 0.080;       ///< give up after this long
    double lead_s = 100e-6;         ///< before the first contact
};

/// One meeting of one pair at one of its points, from touching to parting.
struct ContactEvent {
    std::size_t pair = 0;
    std::size_t point = 0;      ///< 0: the pair's own; n: the n-th of Approach::more
    double share = 1.0;         ///< stiffness of the contact, of the pair's own
    double at_s = 0.0;          ///< on the closing's own clock
    double speed_m_per_s = 0.0; ///< of approach when it touched
    double peak_n = 0.0;        ///< highest contact force until it parted
    double impulse_n_s = 0.0;   ///< contact force over time, until it parted
    double parted_s = 0.0;
};

/// Where the energy went, in joules: at any instant start + muscle = dissipated + kinetic + stored, up to the
/// integrator's error.
struct EnergyAccount {
    double start = 0.0;
    double muscle = 0.0;
    double dissipated = 0.0; ///< ligaments, contacts, joints and friction; never falls in a passive bite
    double kinetic = 0.0;    ///< at the end
    double stored = 0.0;     ///< at the end
};

struct Closing {
    double force_rate_hz = 0.0;
    double start_s = 0.0; ///< time of frame 0 on the closing's own clock
    std::size_t frames = 0;
    std::vector<double> normal_n{};       ///< frames x pair_count: what each upper tooth presses upwards into the skull
    std::vector<double> tangential_n{};   ///< the same sideways; empty unless there is a slide
    std::vector<ContactEvent> contacts{}; ///< by time; the first of each pair and every later one after a rebound
    EnergyAccount energy{};
};

/// Integrates one closing. Semi-implicit Euler on the rigid jaw (heave, roll, hinge and, for a slide, sideways), two
/// small masses per pair and the contact laws of ToothPair, at several points of a pair where Approach::more has them
/// (a high spot then raises the pair's own point alone, and a lowered tooth all of them); first order in the step,
/// stable as long as the step is well below the period of a crown on its contact (about 50 us). Ends when every pair
/// has parted and the ligaments are quiet. Asserts a positive speed, pairs inside the arch and settings that make
/// sense. Does not model: jaw opening against gravity, lips, tongue, cheeks, and teeth bending their neighbours.
[[nodiscard]] Closing integrate_closing(const Patient& patient, const BiteChange& change, const Approach& approach,
                                        const ClosingSettings& settings);

} // namespace retap::bite
