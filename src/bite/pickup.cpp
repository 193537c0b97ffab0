#include "bite/pickup.hpp"

#include "bite/random.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::bite {

namespace {

struct Spot {
    double x_m, y_m, z_m; // left of the midline, in front of the hinge axis, above the teeth
};

Spot spot(PickupPlace place) {
    switch (place) {
    case PickupPlace::left:
        return {.x_m = 0.055, .y_m = 0.060, .z_m = 0.045};
    case PickupPlace::right:
        return {.x_m = -0.055, .y_m = 0.060, .z_m = 0.045};
    case PickupPlace::forehead:
        break;
    }
    return {.x_m = 0.0, .y_m = 0.085, .z_m = 0.110};
}

constexpr double loss_power = 0.7; // amplitude falls with distance to this power (M)
constexpr double usual_path_m = 0.1;

double from_db(double db) {
    return std::pow(10.0, db / 20.0);
}

} // namespace

std::string stream_at(const char* what, PickupPlace place) {
    switch (place) {
    case PickupPlace::left:
        return std::string(what) + " left";
    case PickupPlace::right:
        return std::string(what) + " right";
    case PickupPlace::forehead:
        break;
    }
    return std::string(what) + " forehead";
}

Pickup place_pickup(const Patient& patient, PickupPlace place) {
    Random random(patient.seed, stream_at("pick-up", place));
    // Skin and skull pass some hundred hertz to two or three kilohertz best (unconfirmed; from memory).
    constexpr double acceleration = 6.02; // dB per octave over velocity: the pick-up hears acceleration
    const double low = random.uniform(300.0, 600.0);
    const double high = random.uniform(2000.0, 5000.0);
    const double low_slope = random.uniform(4.0, 8.0);
    const double high_slope = random.uniform(8.0, 14.0);
    Pickup pickup;
    for (const SkullMode& mode : patient.modes) {
        const double below = std::max(0.0, std::log2(low / mode.frequency_hz));
        const double above = std::max(0.0, std::log2(mode.frequency_hz / high));
        const double octaves = std::log2(mode.frequency_hz / 1000.0);
        const double db = random.normal(0.0, 4.0) + acceleration * octaves - low_slope * below - high_slope * above;
        pickup.mode_gain.push_back((random.uniform(0.0, 1.0) < 0.5 ? -1.0 : 1.0) * from_db(db));
    }
    const Spot at = spot(place);
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double dx = at.x_m - patient.pairs.at(i).x_m;
        const double dy = at.y_m - patient.pairs.at(i).y_m;
        const double distance = std::sqrt(dx * dx + dy * dy + at.z_m * at.z_m);
        pickup.delay_s.at(i) = distance / patient.bone_speed_m_per_s;
        pickup.path_gain.at(i) = std::pow(usual_path_m / distance, loss_power);
    }
    return pickup;
}

Pickup reseat(const Pickup& pickup, const Patient& patient, PickupPlace place, const SeatScatter& scatter,
              std::uint64_t seat) {
    assert(pickup.mode_gain.size() == patient.modes.size());
    if (seat == 0) {
        return pickup;
    }
    Random random(patient.seed ^ (seat * 0x9E3779B97F4A7C15ULL), stream_at("seat", place));
    Pickup moved = pickup;
    const double level = random.normal(0.0, scatter.level_db);
    const double tilt = random.normal(0.0, scatter.tilt_db_per_octave);
    for (std::size_t m = 0; m < moved.mode_gain.size(); ++m) {
        const double octaves = std::log2(patient.modes[m].frequency_hz / 1000.0);
        moved.mode_gain[m] *= from_db(level + tilt * octaves + random.normal(0.0, scatter.mode_db));
    }
    const Spot at = spot(place);
    const double move_x = random.normal(0.0, scatter.shift_m);
    const double move_y = random.normal(0.0, scatter.shift_m);
    for (std::size_t i = 0; i < pair_count; ++i) {
        const double dx = at.x_m - patient.pairs.at(i).x_m;
        const double dy = at.y_m - patient.pairs.at(i).y_m;
        const double distance = std::sqrt(dx * dx + dy * dy + at.z_m * at.z_m);
        moved.delay_s.at(i) += (dx * move_x + dy * move_y) / (distance * patient.bone_speed_m_per_s);
    }
    return moved;
}

} // namespace retap::bite
