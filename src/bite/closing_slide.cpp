// A jaw that is led sideways while it closes: surfaces, friction and what stops it.
#include "bite/closing_state.hpp"

#include "bite/random.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::bite {

namespace {

// A slide (all M): wet enamel on enamel, and what stops the jaw sideways once it has found its place.
constexpr double sticking_friction = 0.30;
constexpr double sliding_friction = 0.16;
constexpr double friction_fades_m_per_s = 5e-3;
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

void ClosingState::begin_slide(std::uint64_t patient_seed, std::uint64_t surface_seed) {
    assert(slide_->pair < pair_count && slide_->distance_um > 0.0);
    assert(slide_->incline_deg > 0.0 && slide_->incline_deg < 80.0);
    roughness_ = draw_roughness(patient_seed);
    Random random(surface_seed, "surface");
    for (auto& start : roughness_start_) {
        start = random.below(roughness_points);
    }
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

} // namespace retap::bite
