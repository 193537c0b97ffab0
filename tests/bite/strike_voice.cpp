#include "bite/strike_voice.hpp"

#include "spectrum.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace retap::bite;

namespace {

// A made-up strike: sudden, then a ring of 2 kHz; 48 kHz.
std::vector<Stretch> made_up_strike() {
    Stretch s{.rate_hz = 48000.0, .start_s = 0.0, .samples = {}};
    for (int n = 0; n < 960; ++n) {
        s.samples.push_back(std::exp(-n / 120.0) * std::cos(2.0 * std::numbers::pi * 2000.0 * n / 48000.0));
    }
    return {s};
}

const StrikeStyle plain{
    .patient_db = 0.0, .pair_db = 0.0, .contact_db = 0.0, .pair_level_db = 0.0, .contact_level_db = 0.0};
const SeatScatter still{.mode_db = 0.0, .tilt_db_per_octave = 0.0, .level_db = 0.0, .shift_m = 0.0};

Pickup straight_pickup() {
    Pickup pickup;
    pickup.path_gain.fill(1.0);
    return pickup;
}

} // namespace

TEST_CASE("a contact at the usual speed plays the strike itself, at its own instant") {
    const Patient patient = draw_patient(1);
    const auto strikes = made_up_strike();
    const StrikeVoice voice(patient, strikes, PickupPlace::forehead, still, 0, plain);
    Pickup pickup = straight_pickup();
    pickup.delay_s.at(2) = 0.25e-3;
    const ContactEvent contact{.pair = 2, .at_s = 0.010, .speed_m_per_s = patient.tapping.speed_m_per_s};
    const Stretch out = voice.hear(std::vector{contact}, pickup, 1);
    // The strike's first sample belongs at 10.25 ms; the stretch begins 1 ms before that: 48 samples.
    CHECK(out.start_s == doctest::Approx(0.00925));
    double error = 0.0;
    for (std::size_t n = 64; n < 900; ++n) { // away from the sudden start, which no band-limited sound can follow
        error = std::max(error, std::abs(out.samples[48 + n] - strikes[0].samples[n]));
    }
    CHECK(error < 0.01);
}

TEST_CASE("loudness follows the speed, and a contact without speed is not heard") {
    const Patient patient = draw_patient(1);
    const auto strikes = made_up_strike();
    const StrikeVoice voice(patient, strikes, PickupPlace::forehead, still, 0, plain);
    const double usual = patient.tapping.speed_m_per_s;
    const auto level = [&](double speed) {
        return rms(voice
                       .hear(std::vector<ContactEvent>{{.pair = 2, .at_s = 0.01, .speed_m_per_s = speed}},
                             straight_pickup(), 1)
                       .samples);
    };
    CHECK(level(0.5 * usual) / level(usual) == doctest::Approx(std::pow(0.5, plain.speed_power)).epsilon(1e-6));
    CHECK(level(0.0) == 0.0);
    CHECK(voice.hear({}, straight_pickup(), 1).samples.empty());
}

TEST_CASE("patients, seats, pairs and contacts each have a tone of their own, the same every time") {
    const Patient one = draw_patient(1);
    const Patient two = draw_patient(2);
    const auto strikes = made_up_strike();
    const auto heard = [&](const Patient& p, std::uint64_t seat, std::size_t pair, std::uint64_t tap) {
        const StrikeVoice voice(p, strikes, PickupPlace::forehead, {}, seat);
        const ContactEvent contact{.pair = pair, .at_s = 0.01, .speed_m_per_s = p.tapping.speed_m_per_s};
        return voice.hear(std::vector{contact}, straight_pickup(), tap).samples;
    };
    const auto base = heard(one, 0, 3, 1);
    CHECK(base == heard(one, 0, 3, 1));
    CHECK(base != heard(two, 0, 3, 1));
    CHECK(base != heard(one, 1, 3, 1));
    CHECK(base != heard(one, 0, 4, 1));
    CHECK(base != heard(one, 0, 3, 2));
}
