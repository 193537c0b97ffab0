// The parts a closing bite is made of. SI units throughout; the name carries the unit. Ranges are those that
// draw_patient() draws from. Sources: "A.." are published facts named beside the value; "M" marks a value from memory
// or an assumption, chosen so that pulses, speeds and durations come out in their published ranges.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace retap::bite {

/// Pairs of opposing teeth, second molar to second molar: about 7 contacts a side are usual (Korioth 1990,
/// J Prosthet Dent 64:206-210). Pair 0 is at the patient's right second molar, pair 13 at the left one.
inline constexpr std::size_t pair_count = 14;

/// ISO 3950 number of the upper tooth of a pair: 17, 16, .. 11, 21, .. 27. `pair` below pair_count (asserted).
[[nodiscard]] int upper_tooth_iso(std::size_t pair);

/// The fibres that hold a tooth: soft at first, then stiffening. Force = k e (1 + (e / stiffening)^2) + c e' when
/// compressed by e, k e + c e' when pulled.
struct Ligament {
    double stiffness_n_per_m = 0.0; ///< k, at rest; 1.2e4 to 1.3e5 by tooth and patient (M)
    double stiffening_m = 0.0;      ///< compression at which the stiffness force has doubled; 30 to 130 um (M)
    double damping_n_s_per_m = 0.0; ///< c; 0.5 to 2.5 of critical for the crown: it yields like a fluid when fast (M)
};

/// One lower tooth and the upper one it meets.
struct ToothPair {
    double x_m = 0.0;           ///< to the patient's left of the midline
    double y_m = 0.0;           ///< in front of the hinge axis
    double lower_mass_kg = 0.0; ///< crown and root that move on the ligament; 0.5 to 2.5 g (M)
    double upper_mass_kg = 0.0;
    Ligament lower;
    Ligament upper;
    /// k of the contact force k d^1.5 (1 + damping d'). Hertz for two enamel cusps of 1 to 2 mm radius gives 2e9;
    /// film, roughness and several small contacts in series leave 0.5e8 to 1e9 (M): two free crowns would part after
    /// 0.1 to 0.2 ms.
    double contact_n_per_m15 = 0.0;
    double contact_damping_s_per_m = 0.0; ///< 0.5 to 5, after Hunt and Crossley 1975, J Appl Mech 42:440 (form), (M)
    double gap_m = 0.0;     ///< how much later than the bite plane it meets; a few um for those in contact
    bool in_contact = true; ///< belongs to the pairs that meet in a light tap
};

/// One more contact of a pair that meets at several points: molars at four or five (Int J Comput Dent 2022, median of
/// 709 adults). It moves with the crown.
struct MoreContact {
    std::size_t pair = 0;
    double later_m = 0.0; ///< further apart than the pair's own gap; negative: it meets before the tooth's usual place
    double share = 1.0;   ///< of the pair's contact stiffness; a light brush along an incline has a hundredth
};

/// The lower jaw as a rigid body with three ways to move: heave and roll on the condyles, and rotation on the hinge.
struct Jaw {
    double mass_kg = 0.0;           ///< 0.18 to 0.35 with the tissue that moves along (M)
    double centre_y_m = 0.0;        ///< centre of mass in front of the hinge axis; 45 to 60 mm (M)
    double pitch_radius_m = 0.0;    ///< of gyration about its own transverse axis; 25 to 33 mm (M)
    double roll_radius_m = 0.0;     ///< of gyration about the front-back axis; 30 to 40 mm (M)
    double condyle_x_m = 0.0;       ///< half the distance between the condyles; 47 to 55 mm (M)
    double condyle_n_per_m = 0.0;   ///< stiffness of one joint; 0.6e5 to 3e5 (M)
    double condyle_n_s_per_m = 0.0; ///< damping of one joint (M)
};

/// Closing muscles as one force at a lever arm. Shortening as fast as the jaw closes they pull with nothing to spare,
/// so that the teeth near each other at an even speed; stopped by contact, they push with all their force (the
/// force-velocity property of muscle, here a straight line), until a reflex silences them.
struct Muscle {
    double arm_y_m = 0.0;         ///< in front of the hinge axis; 28 to 38 mm (M)
    double force_n = 0.0;         ///< when the jaw stands still at contact; 5 to 25 N (M)
    double rise_n_per_s = 0.0;    ///< after contact; 400 to 2500 N/s (M)
    double silence_after_s = 0.0; ///< 12.5 to 12.9 ms (Celebic et al., Acta Stomatol Croat: masseter silent period)
    double release_s = 0.0;       ///< time constant of the force's decay; 4 to 8 ms (M)
    double opening_n = 0.0;       ///< what then pulls the jaw away; 3 to 8 N (M)
};

/// One damped mode of the skull and what each upper tooth puts into it.
struct SkullMode {
    double frequency_hz = 0.0;                      ///< 100 Hz to 12 kHz
    double q = 0.0;                                 ///< 2 to 25, low modes lowest: skin and marrow damp strongly (M)
    std::array<double, pair_count> participation{}; ///< of the vertical force of each tooth
    std::array<double, pair_count> tangential_participation{}; ///< of its sideways force
};

/// How a person taps, and how much one tap differs from the next.
struct Tapping {
    double rate_hz = 0.0;          ///< 2 to 3 taps a second (Suzuki 1990, Aichi Gakuin Dent J 28: 3 a second; others 2)
    double interval_scatter = 0.0; ///< relative, per tap
    double speed_m_per_s = 0.0;    ///< of the first molars just before contact; 20 to 200 mm/s (M)
    double speed_scatter = 0.0;    ///< relative, per tap
    double take_speed_scatter = 0.0; ///< relative, of the mean effort from one take to the next
    double roll_scatter_m = 0.0;     ///< height of one first molar against the other, per tap
    double pitch_scatter_m = 0.0;    ///< height of the incisors against the molars, per tap
    double gap_scatter_m = 0.0;      ///< of each pair by itself, per tap
    double muscle_scatter = 0.0;     ///< relative, per tap
    double settling = 0.0;        ///< how much more the first tap scatters and its effort is off (people settle within
                                  ///< 2 to 3 taps: Tanaka et al. 2006, Int Chin J Dent 6:21-28)
    double point_scatter_m = 0.0; ///< of each of several contacts of a tooth, per tap
    double point_missing = 0.0;   ///< chance that a contact stays apart in a tap: it meets beside its place
    double brushes = 0.0;         ///< light contacts a tap that come early by chance, on average
};

struct Patient {
    std::uint64_t seed = 0;
    std::array<ToothPair, pair_count> pairs;
    Jaw jaw;
    Muscle muscle;
    std::vector<MoreContact> more_contacts{}; ///< beside each pair's first; none: every pair meets at one point
    std::vector<SkullMode> modes{};
    Tapping tapping;
    double peak_over_noise_db = 0.0; ///< of a usual tap at the pick-up; 28 to 46 dB
    double bone_speed_m_per_s = 0.0; ///< 260 to 330 m/s (Tonndorf and Jahn 1981, JASA 70:1294)
};

/// The patient that belongs to a seed: always the same one.
[[nodiscard]] Patient draw_patient(std::uint64_t seed);

} // namespace retap::bite
