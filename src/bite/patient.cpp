#include "bite/patient.hpp"

#include "bite/random.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::bite {

namespace {

enum class Kind { molar, premolar, front };

struct Place {
    double x_mm; // sideways from the midline
    double y_mm; // in front of the hinge axis
    Kind kind;
    double mass_g; // what moves of one tooth, crown and root (M)
};

// Second molar to central incisor on one side; an average arch (M).
constexpr std::array<Place, pair_count / 2> half_arch{{{27.0, 46.0, Kind::molar, 1.7},
                                                       {25.0, 56.0, Kind::molar, 1.9},
                                                       {22.0, 64.5, Kind::premolar, 1.1},
                                                       {19.5, 71.5, Kind::premolar, 1.1},
                                                       {16.0, 79.0, Kind::front, 1.2},
                                                       {10.0, 85.0, Kind::front, 0.7},
                                                       {4.0, 88.0, Kind::front, 0.8}}};

Place place_of(std::size_t pair) {
    const bool right = pair < pair_count / 2;
    Place place = half_arch.at(right ? pair : pair_count - 1 - pair);
    place.x_mm = right ? -place.x_mm : place.x_mm;
    return place;
}

struct LigamentStyle { // what the ligaments of one patient have in common
    double stiffness;
    double stiffening;
    double damping_ratio;
};

Ligament draw_ligament(Random& random, const LigamentStyle& style, Kind kind, double mass_kg) {
    const double roots = kind == Kind::molar ? 1.5 : (kind == Kind::premolar ? 1.0 : 0.75);
    const double k = style.stiffness * roots * random.log_normal(1.0, 0.15);
    const double critical = 2.0 * std::sqrt(k * mass_kg);
    return {.stiffness_n_per_m = k,
            .stiffening_m = style.stiffening * random.log_normal(1.0, 0.15),
            .damping_n_s_per_m = critical * style.damping_ratio * random.log_normal(1.0, 0.2)};
}

std::array<ToothPair, pair_count> draw_pairs(std::uint64_t seed) {
    Random random(seed, "teeth");
    const double arch = random.uniform(0.92, 1.08);
    const LigamentStyle style{.stiffness = random.log_uniform(2.2e4, 6.0e4),
                              .stiffening = random.log_uniform(40e-6, 100e-6),
                              .damping_ratio = random.uniform(0.7, 1.8)};
    const double contact = random.log_uniform(1.0e8, 4.0e8);
    const double contact_damping = random.log_uniform(0.7, 3.5);
    const double gap_sd = random.log_uniform(2e-6, 7e-6);
    std::array<ToothPair, pair_count> pairs;
    for (std::size_t i = 0; i < pair_count; ++i) {
        const Place place = place_of(i);
        auto& p = pairs.at(i);
        p.x_m = 1e-3 * arch * place.x_mm;
        p.y_m = 1e-3 * arch * place.y_mm;
        p.lower_mass_kg = 1e-3 * place.mass_g * random.log_normal(1.0, 0.12);
        p.upper_mass_kg = 1e-3 * place.mass_g * random.log_normal(1.0, 0.12);
        p.lower = draw_ligament(random, style, place.kind, p.lower_mass_kg);
        p.upper = draw_ligament(random, style, place.kind, p.upper_mass_kg);
        p.contact_n_per_m15 = contact * random.log_normal(1.0, 0.35);
        p.contact_damping_s_per_m = contact_damping * random.log_normal(1.0, 0.25);
        p.gap_m = random.normal(0.0, gap_sd) + (place.kind == Kind::front ? random.uniform(0.0, 8e-6) : 0.0);
        // Molars and premolars nearly always meet in a tap, front teeth only in some people (Korioth 1990: about 7 a
        // side, most on first and second molars).
        const double missing = place.kind == Kind::molar ? 0.05 : (place.kind == Kind::premolar ? 0.15 : 0.5);
        p.in_contact = random.uniform(0.0, 1.0) >= missing;
    }
    // A bite needs support on both sides to be a bite.
    pairs.at(1).in_contact = true;
    pairs.at(pair_count - 2).in_contact = true;
    for (auto& p : pairs) {
        const double away = random.uniform(40e-6, 160e-6);
        p.gap_m += p.in_contact ? 0.0 : away;
    }
    return pairs;
}

Jaw draw_jaw(std::uint64_t seed) {
    Random random(seed, "jaw");
    Jaw jaw{.mass_kg = random.uniform(0.18, 0.35),
            .centre_y_m = random.uniform(0.045, 0.060),
            .pitch_radius_m = random.uniform(0.025, 0.033),
            .roll_radius_m = random.uniform(0.030, 0.040),
            .condyle_x_m = random.uniform(0.047, 0.055),
            .condyle_n_per_m = random.log_uniform(0.6e5, 3e5)};
    jaw.condyle_n_s_per_m = random.uniform(0.2, 0.5) * 2.0 * std::sqrt(jaw.condyle_n_per_m * 0.5 * jaw.mass_kg);
    return jaw;
}

Muscle draw_muscle(std::uint64_t seed) {
    Random random(seed, "muscle");
    return {.arm_y_m = random.uniform(0.028, 0.038),
            .force_n = random.log_uniform(5.0, 25.0),
            .rise_n_per_s = random.log_uniform(400.0, 2500.0),
            .silence_after_s = random.uniform(12.5e-3, 12.9e-3),
            .release_s = random.uniform(4e-3, 8e-3),
            .opening_n = random.uniform(3.0, 8.0)};
}

Tapping draw_tapping(std::uint64_t seed) {
    Random random(seed, "tapping");
    return {.rate_hz = random.uniform(2.0, 3.0),
            .interval_scatter = random.uniform(0.02, 0.07),
            .speed_m_per_s = std::clamp(random.log_normal(0.075, 0.45), 0.02, 0.2),
            .speed_scatter = random.uniform(0.06, 0.16),
            .take_speed_scatter = random.uniform(0.02, 0.08),
            .roll_scatter_m = random.log_uniform(0.7e-6, 3.5e-6),
            .pitch_scatter_m = random.log_uniform(0.7e-6, 3.0e-6),
            .gap_scatter_m = random.log_uniform(0.5e-6, 1.8e-6),
            .muscle_scatter = random.uniform(0.08, 0.2),
            .settling = random.uniform(0.1, 1.2)};
}

double participation(Random& random, double place, double waves, double phase) {
    return 0.8 * std::cos(waves * place + phase) + random.normal(0.0, 0.5);
}

std::vector<SkullMode> draw_modes(std::uint64_t seed) {
    Random random(seed, "skull");
    constexpr std::size_t count = 40;
    constexpr double lowest = 110.0;
    constexpr double highest = 12000.0;
    const double q_low = random.log_uniform(2.5, 5.0);
    const double q_high = random.log_uniform(6.0, 20.0);
    const double step = std::log(highest / lowest) / static_cast<double>(count - 1);
    std::vector<SkullMode> modes(count);
    for (std::size_t m = 0; m < count; ++m) {
        auto& mode = modes[m];
        const auto at = static_cast<double>(m);
        mode.frequency_hz = lowest * std::exp(step * (at + random.uniform(-0.4, 0.4)));
        const double up = at / static_cast<double>(count - 1);
        mode.q = std::clamp(q_low * std::pow(q_high / q_low, up) * random.log_normal(1.0, 0.25), 2.0, 25.0);
        // Neighbouring teeth drive a low mode alike and a high one each in its own way.
        const double waves = 0.5 * std::sqrt(mode.frequency_hz / lowest);
        const double phase = random.uniform(-3.1416, 3.1416);
        const double tangential_phase = random.uniform(-3.1416, 3.1416);
        for (std::size_t i = 0; i < pair_count; ++i) {
            const double place = 2.0 * static_cast<double>(i) / static_cast<double>(pair_count - 1) - 1.0;
            mode.participation.at(i) = participation(random, place, waves, phase);
            mode.tangential_participation.at(i) = participation(random, place, waves, tangential_phase);
        }
    }
    return modes;
}

} // namespace

int upper_tooth_iso(std::size_t pair) {
    assert(pair < pair_count);
    const int i = static_cast<int>(pair);
    return i < 7 ? 17 - i : 14 + i; // 17..11, then 21..27
}

Patient draw_patient(std::uint64_t seed) {
    Random random(seed, "patient");
    return {.seed = seed,
            .pairs = draw_pairs(seed),
            .jaw = draw_jaw(seed),
            .muscle = draw_muscle(seed),
            .modes = draw_modes(seed),
            .tapping = draw_tapping(seed),
            .peak_over_noise_db = random.uniform(28.0, 46.0),
            .bone_speed_m_per_s = random.uniform(260.0, 330.0)};
}

} // namespace retap::bite
