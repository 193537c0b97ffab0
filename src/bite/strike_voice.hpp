// The same contacts, sounded with recorded impacts instead of the modes of a skull.
#pragma once

#include "bite/closing.hpp"
#include "bite/colour.hpp"
#include "bite/modal_voice.hpp"
#include "bite/patient.hpp"
#include "bite/pickup.hpp"

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::bite {

/// How strikes differ; all spreads are standard deviations per octave band or of a level.
struct StrikeStyle {
    double patient_db = 4.0;    ///< tone of a patient, on top of the recording
    double pair_db = 2.5;       ///< tone of each pair of one patient
    double contact_db = 0.8;    ///< tone of each single contact
    double pair_level_db = 3.0; ///< loudness of each pair of one patient at the same speed
    double contact_level_db = 1.0;
    double speed_power = 1.1;     ///< amplitude grows with the approach speed to this power (Hertz: peak force to 6/5)
    double stiffness_power = 0.4; ///< and with the contact's share of stiffness to this one (Hertz: peak force to 2/5)
    bool by_turns = false;        ///< contacts play all strikes one after the other instead of the patient's one
};

/// One patient's way of sounding. The patient's seed picks one of the recorded strikes; every contact plays it,
/// coloured for patient, pair, contact and seat, at its own exact time after its own way to the pick-up. Rebounds sound
/// like any other contact. By turns, each contact of a tap takes the next strike, and a tap begins at any. A second
/// family for validation: it shares the contact times with the modal one and no sound at all.
class StrikeVoice {
public:
    /// `strikes` holds recorded impacts whose first sample is their onset (start_s 0), peak 1; at least one (asserted).
    StrikeVoice(const Patient& patient, std::span<const Stretch> strikes, PickupPlace place, const SeatScatter& scatter,
                std::uint64_t seat, const StrikeStyle& style = {});

    /// The sound of one closing on the closing's clock, at the rate of the recording. `tap_seed` varies the contacts.
    [[nodiscard]] Stretch hear(std::span<const ContactEvent> contacts, const Pickup& pickup,
                               std::uint64_t tap_seed) const;

private:
    StrikeStyle style_;
    std::vector<Stretch> strikes_; // played by turns; one unless the style says so
    Colour colour_;                // patient and seat
    double level_ = 1.0;
    double usual_speed_m_per_s_ = 0.0;
    std::array<Colour, pair_count> pair_colour_{};
    std::array<double, pair_count> pair_level_{};
};

} // namespace retap::bite
