#include "bite/closing_state.hpp"

#include "bite/closing.hpp"
#include "bite/random.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace retap::bite {

namespace {

// A slide (all M): wet enamel on enamel, and what stops the jaw sideways once it has found its place.
constexpr double sticking_friction = 0.30;
constexpr double sliding_friction = 0.16;
constexpr double friction_fades_m_per_s = 5e-3;
constexpr double side_stiffness = 0.7; // of a ligament sideways, relative to along the tooth
constexpr double stop_n_per_m = 2e5;
constexpr double stop_n_s_per_m = 150.0;
constexpr double sideways_n_s_per_m = 2.0;
constexpr double roughness_m = 0.35e-6; // RMS height, wavelengths 15 to 120 um
constexpr std::size_t roughness_points = 1024;

std::vector<double> draw_roughness(std::uint64_t seed) {
    Random random(seed, "roughness");
    std::vector<double> heights(roughness_points, 0.0);
    constexpr int waves = 24;
    for (int w = 0; w < waves; ++w) {
        const double cycles = std::round(static_cast<double>(roughness_points) / random.log_uniform(15.0, 120.0));
        const double phase = random.uniform(0.0, 2.0 * std::numbers::pi);
        for (std::size_t i = 0; i < roughness_points; ++i) {
            heights[i] += roughness_m * std::sqrt(2.0 / waves) *
                          std::sin(2.0 * std::numbers::pi * cycles * static_cast<double>(i) / roughness_points + phase);
        }
    }
    return heights;
}

} // namespace

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
        assert(slide_->pair < pair_count && slide_->distance_um > 0.0);
        assert(slide_->incline_deg > 0.0 && slide_->incline_deg < 80.0);
        roughness_ = draw_roughness(patient.seed);
        Random random(approach.surface_seed, "surface");
        for (auto& start : roughness_start_) {
            start = random.below(roughness_points);
        }
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

ClosingState::Surface ClosingState::surface(std::size_t pair) const {
    Surface s{.gap_m = base_gap_[pair], .slope = 0.0};
    if (!slide_) {
        return s;
    }
    const double um = std::max(0.0, 1e6 * sideways_);
    const auto whole = static_cast<std::size_t>(um);
    const double part = um - static_cast<double>(whole);
    const double low = roughness_[(roughness_start_[pair] + whole) % roughness_points];
    const double high = roughness_[(roughness_start_[pair] + whole + 1) % roughness_points];
    s.gap_m += low + part * (high - low);
    s.slope += 1e6 * (high - low);
    if (pair == slide_->pair) {
        const double tangent = std::tan(slide_->incline_deg * std::numbers::pi / 180.0);
        const double left_m = std::max(0.0, 1e-6 * slide_->distance_um - std::max(0.0, sideways_));
        s.gap_m -= left_m * tangent;
        s.slope += left_m > 0.0 ? tangent : 0.0;
    }
    return s;
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

void ClosingState::move_sideways(double step_s) {
    double force = -sideways_n_s_per_m * sideways_v_;
    double lost_power = sideways_n_s_per_m * sideways_v_ * sideways_v_;
    const double beyond = sideways_ - 1e-6 * slide_->distance_um;
    const double outside = beyond > 0.0 ? beyond : std::min(sideways_, 0.0);
    if (outside != 0.0) {
        force -= stop_n_per_m * outside + stop_n_s_per_m * sideways_v_;
        lost_power += stop_n_s_per_m * sideways_v_ * sideways_v_;
    }
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double relative = sideways_v_ - side_v_[i];
        const double coefficient = sliding_friction + (sticking_friction - sliding_friction) *
                                                          std::exp(-std::abs(relative) / friction_fades_m_per_s);
        // Friction can stop the sliding within a step but not turn it round.
        const double most = std::abs(relative) * upper_mass_[i] / step_s;
        const double friction = std::copysign(std::min(coefficient * contact_force[i], most), relative);
        const double c = side_stiffness * upper_c_[i];
        skull_side_force[i] = side_stiffness * upper_k_[i] * side_[i] + c * side_v_[i];
        force += contact_force[i] * surface(i).slope - friction;
        lost_power += friction * relative + c * side_v_[i] * side_v_[i];
        side_v_[i] += step_s * (friction - skull_side_force[i]) / upper_mass_[i];
        side_[i] += step_s * side_v_[i];
    }
    dissipated += lost_power * step_s;
    sideways_v_ += step_s * force / jaw_.mass_kg;
    sideways_ += step_s * sideways_v_;
}

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
