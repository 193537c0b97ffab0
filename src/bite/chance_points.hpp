// Where several contacts of a tooth stand in one tap: some meet beside their place, and some brush by early.
#pragma once

#include "bite/closing.hpp"
#include "bite/patient.hpp"
#include "bite/random.hpp"

namespace retap::bite {

/// Fills `approach.more` with the patient's further contacts as they stand in one tap, and moves the pairs' own points
/// by chance. Each point scatters by itself (Tapping::point_scatter_m); with Tapping::point_missing it meets beside its
/// place, 8 to 40 um later; and Tapping::brushes light contacts of 0.005 to 0.05 of the stiffness come 3 to 40
/// um early, on any tooth (all M). Nothing is drawn for a patient without any of these.
void draw_points(const Patient& patient, Random& random, Approach& approach);

} // namespace retap::bite
