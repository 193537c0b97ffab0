// A whole recording of a tapping bite, with the truth about it.
#pragma once

#include "bite/change.hpp"
#include "bite/clinic.hpp"
#include "bite/closing.hpp"
#include "bite/mechanics.hpp"
#include "bite/modal_voice.hpp"
#include "bite/patient.hpp"
#include "bite/pickup.hpp"
#include "bite/room.hpp"
#include "bite/strike_voice.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace retap::bite {

enum class Pickups : std::uint8_t { forehead, left, right, left_and_right };

/// Where the pick-ups sit, in the order of the take's channels.
[[nodiscard]] std::vector<PickupPlace> places(Pickups pickups);

/// Everything that fixes a take. The same scenario gives the same samples, bit for bit, on one machine and build.
struct Scenario {
    std::uint64_t patient = 1;
    Mechanics mechanics = Mechanics::light;
    std::uint64_t take = 1; ///< seeds what differs between takes of one person: the taps and the noise
    std::uint64_t seat = 0; ///< how the pick-up sits; 0 is the first seat
    BiteChange change{};
    std::span<const Stretch> strikes{}; ///< recorded impacts to sound through, see StrikeVoice; none: the skull's modes
    StrikeStyle strike_style{};
    int taps = 8;                                  ///< 0 gives the room without a patient
    std::optional<double> closing_speed_m_per_s{}; ///< absent: this person's own, which also sets the level
    double tap_scatter = 1.0;                      ///< times the scatter from tap to tap; 0: every tap alike
    double teeth_alike = 0.0;                      ///< 0 to 1: how far all teeth sound like one, see alike_teeth()
    double blow_scatter = 0.0; ///< of what each tooth puts into each mode, per tap; see vary_blows()
    Pickups pickups = Pickups::forehead;
    double sample_rate_hz = 48000.0;            ///< 8 to 192 kHz (asserted)
    double lead_s = 0.35;                       ///< before the first tap
    double tail_s = 0.40;                       ///< after the last
    double usual_peak_dbfs = -10.0;             ///< of this patient's usual tap of the unchanged bite in the first seat
    std::optional<double> peak_over_noise_db{}; ///< of that tap; absent: as the patient's room has it
    std::optional<double> pink_noise{};         ///< share of its power, 0 to 1; absent: another in each take
    std::vector<ClinicSound> clinic{};          ///< heard by both pick-ups
    std::optional<Room> room{};
    SeatScatter seat_scatter{};
    ClosingSettings closing{};
};

/// What really happened in one tap.
struct TapTruth {
    double onset_s = 0.0;                 ///< of the first contact, from the start of the take
    std::vector<double> arrival_s{};      ///< of the first contact at each pick-up: after the way through the bone
    std::vector<double> peak{};           ///< of the clean sound at each pick-up, before room, clinic and noise
    std::vector<ContactEvent> contacts{}; ///< times from the start of the take
};

struct Take {
    double sample_rate_hz = 0.0;
    std::vector<std::vector<float>> channels{}; ///< one, or left and right; full scale is 1, never limited here
    std::vector<TapTruth> taps{};
};

/// Makes the take. Pairs outside the arch, a rate out of range or a negative count of taps are asserted.
[[nodiscard]] Take make_take(const Scenario& scenario);

/// The same for a patient that was changed after drawing; scenario.patient still seeds the noise.
[[nodiscard]] Take make_take(const Patient& patient, const Scenario& scenario);

} // namespace retap::bite
