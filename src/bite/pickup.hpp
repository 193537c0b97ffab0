// Where the pick-up sits and how it hears each mode of the skull.
#pragma once

#include "bite/patient.hpp"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace retap::bite {

enum class PickupPlace : std::uint8_t { forehead, left, right };

/// Name of a random stream that belongs to one place.
[[nodiscard]] std::string stream_at(const char* what, PickupPlace place);

/// How differently a pick-up hears when it was taken off and put back.
struct SeatScatter {
    double mode_db = 1.2;            ///< of each mode by itself
    double tilt_db_per_octave = 1.0; ///< of the whole spectrum about 1 kHz
    double level_db = 1.5;           ///< of everything
    double shift_m = 0.002;          ///< of the place, which moves the arrival times
};

/// A pick-up in its place: gain of each mode, and how long sound takes from each upper tooth.
struct Pickup {
    std::vector<double> mode_gain{};            ///< one per mode of the patient; may be negative
    std::array<double, pair_count> delay_s{};   ///< bone conduction, tens to hundreds of microseconds
    std::array<double, pair_count> path_gain{}; ///< nearer teeth are louder
};

/// The pick-up of this patient at this place as the patient's seed has it, before any re-seating.
[[nodiscard]] Pickup place_pickup(const Patient& patient, PickupPlace place);

/// The same pick-up taken off and put back. Seat 0 is the first seat: nothing changes.
[[nodiscard]] Pickup reseat(const Pickup& pickup, const Patient& patient, PickupPlace place, const SeatScatter& scatter,
                            std::uint64_t seat);

} // namespace retap::bite
