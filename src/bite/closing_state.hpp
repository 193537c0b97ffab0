// The moving parts of a closing bite and one step of their motion. Used by closing.cpp only.
#pragma once

#include "bite/change.hpp"
#include "bite/patient.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace retap::bite {

struct Approach;

/// Positions are upwards (closing) and zero where jaw and skull would meet in the bite plane. Semi-implicit Euler:
/// forces from the old positions and velocities, new velocities, then positions with the new velocities.
class ClosingState {
public:
    using PerPair = std::array<double, pair_count>;

    ClosingState(const Patient& patient, const BiteChange& change, const Approach& approach, double lead_s);

    void step(double step_s, double muscle_n);
    [[nodiscard]] bool slides() const { return slide_.has_value(); }
    [[nodiscard]] double hinge_speed() const { return hinge_v_; } ///< in radians per second
    [[nodiscard]] double kinetic_energy() const;
    [[nodiscard]] double stored_energy() const;

    // Of the positions that the last step started from:
    PerPair overlap{};          ///< of the two surfaces of each pair; above zero they touch
    PerPair closing_speed{};    ///< of the two surfaces of each pair
    PerPair contact_force{};    ///< between them, at all their points
    PerPair own_force{};        ///< at the pair's own point
    PerPair skull_force{};      ///< through the upper ligament into the skull
    PerPair skull_side_force{}; ///< the same sideways
    /// One of several points of a pair, see MoreContact.
    struct Point {
        std::size_t pair;
        double later_m; ///< than the pair's own point, as the bite is now
        double share;
        double overlap = 0.0;
        double force = 0.0;
    };
    std::vector<Point> points{}; ///< in the order of Approach::more
    double muscle_work = 0.0;
    double dissipated = 0.0;

private:
    static constexpr double side_stiffness = 0.7; ///< of a ligament sideways, relative to along the tooth
    static constexpr double stop_n_per_m = 2e5;   ///< what stops the jaw sideways

    struct Surface { // how the gap of a pair depends on where the jaw is sideways
        double gap_m;
        double slope;
    };
    [[nodiscard]] Surface surface(std::size_t pair) const;
    void press_points(PerPair& lost);
    void begin_slide(std::uint64_t patient_seed, std::uint64_t surface_seed);
    void place_jaw(const Approach& approach, double lead_s);
    void move_sideways(double step_s);

    // Per pair, in the order of ToothPair.
    PerPair x_{}, y_{}, lower_mass_{}, upper_mass_{};
    PerPair lower_k_{}, lower_stiffening_{}, lower_c_{};
    PerPair upper_k_{}, upper_stiffening_{}, upper_c_{};
    PerPair contact_k_{}, contact_damping_{}, base_gap_{};
    PerPair gap_{}, gap_rate_{};
    PerPair lower_{}, lower_v_{}, upper_{}, upper_v_{};
    PerPair side_{}, side_v_{};

    Jaw jaw_;
    double arm_y_m_ = 0.0;
    std::array<double, 3>
        inverse_mass_{}; // of heave and hinge, which are coupled: heave-heave, heave-hinge, hinge-hinge
    double heave_ = 0.0, roll_ = 0.0, hinge_ = 0.0;
    double rest_heave_ = 0.0, rest_roll_ = 0.0; // where the joints carry nothing
    double heave_v_ = 0.0, roll_v_ = 0.0, hinge_v_ = 0.0;

    std::optional<Slide> slide_;
    double sideways_ = 0.0, sideways_v_ = 0.0;
    std::vector<double> roughness_; // height over sideways travel, 1 um apart, periodic
    std::array<std::size_t, pair_count> roughness_start_{};
};

} // namespace retap::bite
