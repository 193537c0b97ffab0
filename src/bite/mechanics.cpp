#include "bite/mechanics.hpp"

#include "bite/random.hpp"

#include <cassert>
#include <cmath>

namespace retap::bite {

namespace {

constexpr std::size_t first_molar = 1;

// All M but where a source stands beside it.
struct Stiffness {
    double series_n_per_m; // of two first molars
    double stiffening_m;
    double jaw_damping; // of the two ligaments in series, of critical for the whole jaw on them
};

void set_mass(Patient& patient, double at_molar_kg) {
    patient.jaw.mass_kg *= at_molar_kg / hinged_mass_kg(patient, first_molar);
}

// Teeth keep their proportions.
void set_ligaments(Patient& patient, const Stiffness& to) {
    const double scale = to.series_n_per_m / series_stiffness_n_per_m(patient.pairs.at(first_molar));
    const double jaw_kg = hinged_mass_kg(patient, first_molar);
    for (ToothPair& pair : patient.pairs) {
        for (Ligament* ligament : {&pair.lower, &pair.upper}) {
            ligament->stiffness_n_per_m *= scale;
            ligament->stiffening_m = to.stiffening_m;
            ligament->damping_n_s_per_m = to.jaw_damping * 2.0 * std::sqrt(ligament->stiffness_n_per_m * jaw_kg);
        }
    }
}

void set_joints(Patient& patient, double n_per_m, double damping_ratio) {
    patient.jaw.condyle_n_per_m = n_per_m;
    patient.jaw.condyle_n_s_per_m = damping_ratio * 2.0 * std::sqrt(n_per_m * 0.5 * patient.jaw.mass_kg);
}

void set_contacts(Patient& patient, double factor) {
    for (ToothPair& pair : patient.pairs) {
        pair.contact_n_per_m15 *= factor;
    }
}

// A premature contact takes the masseter's silent period away in half to two thirds of the taps (34 to 53 % of taps
// have one, 95 to 100 % in normal subjects: abstract on silent periods and initial sliding, 3 + 3 subjects), so a jaw
// that hangs on one tooth is pressed on. One value for each patient, whatever the tap.
void press_on(Patient& patient, Random& random) {
    patient.muscle.silence_after_s = random.uniform(25e-3, 45e-3);
    patient.muscle.force_n = random.log_uniform(4.0, 12.0);
    patient.muscle.rise_n_per_s = random.log_uniform(600.0, 2500.0);
}

void stop(Patient& patient, Random& random) {
    set_mass(patient, random.log_uniform(0.08, 0.25));
    set_ligaments(patient, {.series_n_per_m = random.log_uniform(1e5, 4e5),
                            .stiffening_m = 1e-3,
                            .jaw_damping = random.uniform(0.15, 0.4)});
    set_joints(patient, random.log_uniform(1.5e6, 4e6), random.uniform(0.3, 0.6));
    set_contacts(patient, random.log_uniform(2.0, 6.0));
    press_on(patient, random);
    patient.tapping.speed_m_per_s = random.log_uniform(0.03, 0.2);
}

// Medians of an adult: premolars meet at two points, molars at four or five (Int J Comput Dent 2022, 709 adults).
void add_points(Patient& patient, Random& random) {
    const double usual_m = random.log_uniform(2e-6, 10e-6);
    for (std::size_t i = 0; i < pair_count; ++i) {
        const std::size_t from_back = std::min(i, pair_count - 1 - i);
        const std::size_t most = from_back < 2 ? 5 : (from_back < 4 ? 3 : 2);
        const std::size_t more = random.below(most);
        for (std::size_t n = 0; n < more; ++n) {
            patient.more_contacts.push_back(
                {.pair = i, .later_m = random.uniform(0.0, 2.0) * usual_m, .share = random.log_uniform(0.3, 1.0)});
        }
    }
    Tapping& t = patient.tapping;
    t.point_scatter_m = random.log_uniform(1e-6, 4e-6);
    t.point_missing = random.uniform(0.03, 0.25);
    t.brushes = random.log_uniform(0.05, 1.0);
}

void mix(Patient& patient, Random& random) {
    set_mass(patient, random.log_uniform(0.08, 0.3));
    set_ligaments(patient, {.series_n_per_m = random.log_uniform(2e4, 5e5),
                            .stiffening_m = random.log_uniform(60e-6, 600e-6),
                            .jaw_damping = random.uniform(0.1, 0.35)});
    set_joints(patient, random.log_uniform(2e5, 4e6), random.uniform(0.2, 0.6));
    set_contacts(patient, random.log_uniform(1.0, 5.0));
    if (random.uniform(0.0, 1.0) < 0.5) {
        press_on(patient, random);
    }
    patient.tapping.speed_m_per_s = random.log_uniform(0.03, 0.2);
    if (random.uniform(0.0, 1.0) < 0.5) {
        add_points(patient, random);
    }
}

} // namespace

std::string_view name(Mechanics mechanics) {
    switch (mechanics) {
    case Mechanics::stopping:
        return "stopping";
    case Mechanics::chance:
        return "chance";
    case Mechanics::mixed:
        return "mixed";
    case Mechanics::light:
        break;
    }
    return "light";
}

std::optional<Mechanics> mechanics_named(std::string_view word) {
    for (const Mechanics mechanics : all_mechanics) {
        if (name(mechanics) == word) {
            return mechanics;
        }
    }
    return std::nullopt;
}

double hinged_mass_kg(const Patient& patient, std::size_t pair) {
    assert(pair < pair_count);
    const Jaw& jaw = patient.jaw;
    const double y = patient.pairs.at(pair).y_m;
    return jaw.mass_kg * (jaw.centre_y_m * jaw.centre_y_m + jaw.pitch_radius_m * jaw.pitch_radius_m) / (y * y);
}

double series_stiffness_n_per_m(const ToothPair& pair) {
    return 1.0 / (1.0 / pair.lower.stiffness_n_per_m + 1.0 / pair.upper.stiffness_n_per_m);
}

double stopping_height_m(const Patient& patient, std::size_t pair) {
    const double speed = patient.tapping.speed_m_per_s * patient.pairs.at(pair).y_m / patient.pairs.at(first_molar).y_m;
    return speed * std::sqrt(hinged_mass_kg(patient, pair) / series_stiffness_n_per_m(patient.pairs.at(pair)));
}

Patient draw_patient(std::uint64_t seed, Mechanics mechanics) {
    Patient patient = draw_patient(seed);
    Random random(seed, name(mechanics));
    switch (mechanics) {
    case Mechanics::stopping:
        stop(patient, random);
        break;
    case Mechanics::chance:
        add_points(patient, random);
        break;
    case Mechanics::mixed:
        mix(patient, random);
        break;
    case Mechanics::light:
        break;
    }
    return patient;
}

} // namespace retap::bite
