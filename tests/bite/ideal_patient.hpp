// A patient without scatter, for answers that follow from arithmetic.
#pragma once

#include "bite/patient.hpp"

#include <cstddef>

namespace retap::bite {

/// Patient 1 with every pair in contact in the same plane.
inline Patient flat_patient() {
    Patient patient = draw_patient(1);
    for (auto& pair : patient.pairs) {
        pair.gap_m = 0.0;
        pair.in_contact = true;
    }
    return patient;
}

/// Only one pair can meet and its ligaments hardly hold it: two free bodies that collide.
inline Patient one_free_pair(std::size_t index) {
    Patient patient = flat_patient();
    for (auto& pair : patient.pairs) {
        pair.gap_m = 0.05;
    }
    auto& pair = patient.pairs.at(index);
    pair.gap_m = 0.0;
    for (auto* ligament : {&pair.lower, &pair.upper}) {
        ligament->stiffness_n_per_m *= 1e-6;
        ligament->damping_n_s_per_m *= 1e-6;
    }
    pair.contact_damping_s_per_m = 0.0;
    patient.muscle.force_n = 0.0;
    patient.muscle.rise_n_per_s = 0.0;
    return patient;
}

} // namespace retap::bite
