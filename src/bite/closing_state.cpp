#include "bite/closing_state.hpp"

#include "bite/closing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace retap::bite {

ClosingState::ClosingState(const Patient& patient, const BiteChange& change, const Approach& approach, double lead_s)
    : jaw_(patient.jaw), arm_y_m_(patient.muscle.arm_y_m), slide_(change.slide) {
    for (std::size_t i = 0; i < pair_count; ++i) {
        const ToothPair& p = patient.pairs.at(i);
        x_[i] = p.x_m;
        y_[i] = p.y_m;
        lower_mass_[i] = p.lower_mass_kg;
        upper_mass_[i] = p.upper_mass_kg;
        lower_k_[i] = p.lower.stiffness_n_per_m;
        lower_stiffening_[i] = 1.0 / (p.lower.stiffening_m * p.lower.stiffening_m);
        lower_c_[i] = p.lower.damping_n_s_per_m;
        upper_k_[i] = p.upper.stiffness_n_per_m;
        upper_stiffening_[i] = 1.0 / (p.upper.stiffening_m * p.upper.stiffening_m);
        upper_c_[i] = p.upper.damping_n_s_per_m;
        contact_k_[i] = p.contact_n_per_m15;
        contact_damping_[i] = p.contact_damping_s_per_m;
        base_gap_[i] = p.gap_m + approach.extra_gap_m[i];
    }
    for (const auto& m : approach.more) {
        assert(m.pair < pair_count && m.share > 0.0);
        points.push_back({.pair = m.pair, .later_m = m.later_m, .share = m.share});
    }
    for (const auto& h : change.heights) {
        assert(h.pair < pair_count && std::isfinite(h.height_um));
        base_gap_.at(h.pair) -= 1e-6 * h.height_um;
        for (auto& point : points) {
            point.later_m += point.pair == h.pair ? 1e-6 * std::max(0.0, h.height_um) : 0.0;
        }
    }
    if (slide_) {
        begin_slide(patient.seed, approach.surface_seed);
    }
    for (std::size_t i = 0; i < pair_count; ++i) {
        gap_[i] = slide_ ? surface(i).gap_m : base_gap_[i];
    }
    const double m = jaw_.mass_kg;
    const double coupling = m * jaw_.centre_y_m;
    const double hinge = m * (jaw_.centre_y_m * jaw_.centre_y_m + jaw_.pitch_radius_m * jaw_.pitch_radius_m);
    const double determinant = m * hinge - coupling * coupling;
    inverse_mass_ = {hinge / determinant, -coupling / determinant, m / determinant};
    place_jaw(approach, lead_s);
}

void ClosingState::place_jaw(const Approach& approach, double lead_s) {
    constexpr std::size_t molar = 1;
    const double molar_x = std::abs(x_[molar]);
    const double molar_y = y_[molar];
    const double front_y = y_[pair_count / 2];
    hinge_v_ = approach.speed_m_per_s / molar_y;
    roll_ = approach.roll_m / (2.0 * molar_x);
    const double pitch = approach.pitch_m / (front_y - molar_y);
    // A pitch of the tapping jaw tilts it about the first molars: part heave, part hinge.
    heave_ = -pitch * molar_y;
    hinge_ = pitch;
    double first_s = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double at = heave_ + x_[i] * roll_ + y_[i] * hinge_;
        first_s = std::min(first_s, (gap_[i] - at) / (y_[i] * hinge_v_));
    }
    for (const Point& point : points) {
        const std::size_t i = point.pair;
        const double at = heave_ + x_[i] * roll_ + y_[i] * hinge_;
        first_s = std::min(first_s, (gap_[i] + point.later_m - at) / (y_[i] * hinge_v_));
    }
    hinge_ += hinge_v_ * (first_s - lead_s);
    // The joints are at rest where this tap happens to close: the tilt belongs to the posture, not to their springs.
    for (std::size_t i = 0; i < pair_count; ++i) {
        lower_[i] = heave_ + x_[i] * roll_ + y_[i] * hinge_;
        lower_v_[i] = y_[i] * hinge_v_;
    }
    rest_heave_ = heave_;
    rest_roll_ = roll_;
}

void ClosingState::step(double step_s, double muscle_n) {
    PerPair lower_force{}; // of the ligament, on the jaw downwards and on the crown upwards
    PerPair lost{};
    if (slide_) {
        for (std::size_t i = 0; i < pair_count; ++i) {
            const Surface s = surface(i);
            gap_[i] = s.gap_m;
            gap_rate_[i] = s.slope * sideways_v_;
        }
    }
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double jaw = heave_ + x_[i] * roll_ + y_[i] * hinge_;
        const double jaw_v = heave_v_ + x_[i] * roll_v_ + y_[i] * hinge_v_;
        const double e = jaw - lower_[i];
        const double e_v = jaw_v - lower_v_[i];
        const double pressed = e > 0.0 ? e : 0.0;
        lower_force[i] = lower_k_[i] * e * (1.0 + pressed * pressed * lower_stiffening_[i]) + lower_c_[i] * e_v;

        const double u = upper_[i];
        const double pushed = u > 0.0 ? u : 0.0;
        skull_force[i] = upper_k_[i] * u * (1.0 + pushed * pushed * upper_stiffening_[i]) + upper_c_[i] * upper_v_[i];

        const double d = lower_[i] - upper_[i] - gap_[i];
        const double d_v = lower_v_[i] - upper_v_[i] - gap_rate_[i];
        const double touch = d > 0.0 ? d : 0.0;
        const double spring = contact_k_[i] * touch * std::sqrt(touch);
        const double full = spring * (1.0 + contact_damping_[i] * d_v);
        const double force = full > 0.0 ? full : 0.0;
        overlap[i] = d;
        closing_speed[i] = d_v;
        contact_force[i] = force;
        lost[i] = lower_c_[i] * e_v * e_v + upper_c_[i] * upper_v_[i] * upper_v_[i] + (force - spring) * d_v;
    }
    if (!points.empty()) {
        press_points(lost);
    }

    const double joint_up = 2.0 * (jaw_.condyle_n_per_m * (heave_ - rest_heave_) + jaw_.condyle_n_s_per_m * heave_v_);
    const double arm = jaw_.condyle_x_m * jaw_.condyle_x_m;
    const double joint_roll =
        2.0 * arm * (jaw_.condyle_n_per_m * (roll_ - rest_roll_) + jaw_.condyle_n_s_per_m * roll_v_);
    double heave_force = muscle_n - joint_up;
    double roll_torque = -joint_roll;
    double hinge_torque = muscle_n * arm_y_m_;
    double lost_power = 2.0 * jaw_.condyle_n_s_per_m * (heave_v_ * heave_v_ + arm * roll_v_ * roll_v_);
    for (std::size_t i = 0; i < pair_count; ++i) {
        heave_force -= lower_force[i];
        roll_torque -= lower_force[i] * x_[i];
        hinge_torque -= lower_force[i] * y_[i];
        lost_power += lost[i];
    }
    dissipated += lost_power * step_s;
    muscle_work += muscle_n * (heave_v_ + arm_y_m_ * hinge_v_) * step_s;

    heave_v_ += step_s * (inverse_mass_[0] * heave_force + inverse_mass_[1] * hinge_torque);
    hinge_v_ += step_s * (inverse_mass_[1] * heave_force + inverse_mass_[2] * hinge_torque);
    roll_v_ += step_s * roll_torque / (jaw_.mass_kg * jaw_.roll_radius_m * jaw_.roll_radius_m);
    for (std::size_t i = 0; i < pair_count; ++i) {
        lower_v_[i] += step_s * (lower_force[i] - contact_force[i]) / lower_mass_[i];
        upper_v_[i] += step_s * (contact_force[i] - skull_force[i]) / upper_mass_[i];
        lower_[i] += step_s * lower_v_[i];
        upper_[i] += step_s * upper_v_[i];
    }
    heave_ += step_s * heave_v_;
    hinge_ += step_s * hinge_v_;
    roll_ += step_s * roll_v_;
    if (slide_) {
        move_sideways(step_s);
    }
}

void ClosingState::press_points(PerPair& lost) {
    own_force = contact_force;
    for (Point& point : points) {
        const std::size_t i = point.pair;
        point.overlap = overlap[i] - point.later_m;
        point.force = 0.0;
        if (point.overlap > 0.0) {
            const double spring = point.share * contact_k_[i] * point.overlap * std::sqrt(point.overlap);
            point.force = std::max(0.0, spring * (1.0 + contact_damping_[i] * closing_speed[i]));
            lost[i] += (point.force - spring) * closing_speed[i];
            contact_force[i] += point.force;
        }
    }
}

} // namespace retap::bite
