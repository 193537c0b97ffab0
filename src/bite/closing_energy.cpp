// What a closing jaw holds of motion and of springs.
#include "bite/closing_state.hpp"

#include <algorithm>
#include <cmath>

namespace retap::bite {

double ClosingState::kinetic_energy() const {
    const double m = jaw_.mass_kg;
    const double centre_v = heave_v_ + jaw_.centre_y_m * hinge_v_;
    const double pitch = jaw_.pitch_radius_m * hinge_v_;
    const double roll = jaw_.roll_radius_m * roll_v_;
    double twice = m * (centre_v * centre_v + pitch * pitch + roll * roll + sideways_v_ * sideways_v_);
    for (std::size_t i = 0; i < pair_count; ++i) {
        twice += lower_mass_[i] * lower_v_[i] * lower_v_[i];
        twice += upper_mass_[i] * (upper_v_[i] * upper_v_[i] + side_v_[i] * side_v_[i]);
    }
    return 0.5 * twice;
}

double ClosingState::stored_energy() const {
    const auto ligament = [](double k, double stiffening, double e) {
        const double pressed = e > 0.0 ? e : 0.0;
        return 0.5 * k * e * e + 0.25 * k * stiffening * pressed * pressed * pressed * pressed;
    };
    const double heave = heave_ - rest_heave_;
    const double roll = (roll_ - rest_roll_) * jaw_.condyle_x_m;
    double sum = jaw_.condyle_n_per_m * (heave * heave + roll * roll);
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double jaw = heave_ + x_[i] * roll_ + y_[i] * hinge_;
        sum += ligament(lower_k_[i], lower_stiffening_[i], jaw - lower_[i]);
        sum += ligament(upper_k_[i], upper_stiffening_[i], upper_[i]);
        const double touch = std::max(0.0, lower_[i] - upper_[i] - (slide_ ? surface(i).gap_m : base_gap_[i]));
        sum += 0.4 * contact_k_[i] * touch * touch * std::sqrt(touch);
        sum += 0.5 * side_stiffness * upper_k_[i] * side_[i] * side_[i];
    }
    for (const Point& point : points) {
        const std::size_t i = point.pair;
        const double gap = (slide_ ? surface(i).gap_m : base_gap_[i]) + point.later_m;
        const double touch = std::max(0.0, lower_[i] - upper_[i] - gap);
        sum += 0.4 * point.share * contact_k_[i] * touch * touch * std::sqrt(touch);
    }
    const double beyond =
        slide_ ? std::max(0.0, sideways_ - 1e-6 * slide_->distance_um) - std::min(0.0, sideways_) : 0.0;
    return sum + 0.5 * stop_n_per_m * beyond * beyond;
}

} // namespace retap::bite
