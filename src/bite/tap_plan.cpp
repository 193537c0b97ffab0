#include "bite/tap_plan.hpp"

#include "bite/chance_points.hpp"
#include "bite/random.hpp"

#include <algorithm>
#include <cmath>

namespace retap::bite {

namespace {
constexpr double slowest_m_per_s = 0.015;
constexpr double fastest_m_per_s = 0.25;
constexpr double take_posture = 0.5;  // of the per-tap scatter of roll and pitch, from take to take
constexpr double settling_taps = 1.2; // an effect falls to 1/e over this many taps
constexpr double shortest_interval_s = 0.2;
} // namespace

Approach usual_approach(const Patient& patient) {
    return {.speed_m_per_s = patient.tapping.speed_m_per_s, .more = patient.more_contacts};
}

std::vector<PlannedTap> plan_taps(const Patient& patient, std::uint64_t take, int count, double lead_s) {
    const Tapping& t = patient.tapping;
    Random random(patient.seed ^ (take * 0xD1B54A32D192ED03ULL), "taps");
    Random chance(patient.seed ^ (take * 0xD1B54A32D192ED03ULL), "points");
    const double mean_speed = t.speed_m_per_s * std::exp(random.normal(0.0, t.take_speed_scatter));
    const double mean_roll = random.normal(0.0, take_posture * t.roll_scatter_m);
    const double mean_pitch = random.normal(0.0, take_posture * t.pitch_scatter_m);
    const double first_effort = random.normal(0.0, 0.25 * t.settling);
    std::vector<PlannedTap> taps;
    double at_s = lead_s;
    for (int n = 0; n < count; ++n) {
        const double unsettled = t.settling * std::exp(-n / settling_taps);
        const double wider = 1.0 + unsettled;
        const double effort = first_effort * std::exp(-n / settling_taps);
        PlannedTap tap{.at_s = at_s};
        tap.approach.speed_m_per_s =
            std::clamp(mean_speed * std::exp(effort + random.normal(0.0, wider * t.speed_scatter)), slowest_m_per_s,
                       fastest_m_per_s);
        tap.approach.roll_m = mean_roll + random.normal(0.0, wider * t.roll_scatter_m);
        tap.approach.pitch_m = mean_pitch + random.normal(0.0, wider * t.pitch_scatter_m);
        tap.approach.muscle = std::exp(random.normal(0.0, t.muscle_scatter));
        for (auto& gap : tap.approach.extra_gap_m) {
            gap = random.normal(0.0, t.gap_scatter_m);
        }
        tap.approach.surface_seed = random.bits();
        draw_points(patient, chance, tap.approach);
        taps.push_back(tap);
        at_s += std::max(shortest_interval_s, (1.0 + random.normal(0.0, t.interval_scatter)) / t.rate_hz);
    }
    return taps;
}

} // namespace retap::bite
