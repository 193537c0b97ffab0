#include "bite/make_take.hpp"

#include "bite/modal_voice.hpp"
#include "bite/noise.hpp"
#include "bite/random.hpp"
#include "bite/sinc_placer.hpp"
#include "bite/strike_voice.hpp"
#include "bite/tap_plan.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

namespace retap::bite {

namespace {

// The person as this scenario has them tap.
Patient tapping_as_asked(Patient patient, const Scenario& scenario) {
    Tapping& t = patient.tapping;
    t.speed_m_per_s = scenario.closing_speed_m_per_s.value_or(t.speed_m_per_s);
    for (double* scatter :
         {&t.interval_scatter, &t.speed_scatter, &t.take_speed_scatter, &t.roll_scatter_m, &t.pitch_scatter_m,
          &t.gap_scatter_m, &t.muscle_scatter, &t.settling, &t.point_scatter_m, &t.point_missing, &t.brushes}) {
        *scatter *= scenario.tap_scatter;
    }
    return patient;
}

ClosingSettings fine_enough(ClosingSettings settings, double sample_rate_hz) {
    while (settings.force_rate_hz < 2.0 * sample_rate_hz) {
        settings.force_rate_hz *= 2.0;
        settings.steps_per_force = std::max(1, settings.steps_per_force / 2);
    }
    return settings;
}

double peak_of(const std::vector<double>& samples) {
    double peak = 0.0;
    for (const double s : samples) {
        peak = std::max(peak, std::abs(s));
    }
    return peak;
}

// One pick-up with what it hears: the modes of the skull, or recorded strikes.
class Ear {
public:
    Ear(const Patient& patient, PickupPlace place, const Scenario& scenario, std::uint64_t seat)
        : patient_(&patient), blow_scatter_(scenario.blow_scatter),
          pickup_(reseat(place_pickup(patient, place), patient, place, scenario.seat_scatter, seat)) {
        if (!scenario.strikes.empty()) {
            strikes_.emplace(patient, scenario.strikes, place, scenario.seat_scatter, seat, scenario.strike_style);
        }
    }
    [[nodiscard]] Stretch hear(const Closing& closing, std::uint64_t tap_seed) const {
        if (strikes_) {
            return strikes_->hear(closing.contacts, pickup_, tap_seed);
        }
        if (blow_scatter_ <= 0.0) {
            return hear_closing(closing, *patient_, pickup_);
        }
        Patient hit = *patient_;
        hit.modes = vary_blows(std::move(hit.modes), blow_scatter_, tap_seed);
        return hear_closing(closing, hit, pickup_);
    }
    [[nodiscard]] double arrival_s(const ContactEvent& contact) const {
        return contact.at_s + pickup_.delay_s.at(contact.pair);
    }

private:
    const Patient* patient_;
    double blow_scatter_;
    Pickup pickup_;
    std::optional<StrikeVoice> strikes_;
};

// The loudest the pick-ups in their first seats hear of the usual tap of the unchanged bite.
double usual_peak(const Patient& patient, const std::vector<PickupPlace>& where, const Scenario& scenario,
                  const ClosingSettings& settings) {
    const Approach usual = usual_approach(patient);
    const Closing closing = integrate_closing(patient, {}, usual, settings);
    double peak = 0.0;
    for (const PickupPlace place : where) {
        peak = std::max(peak, peak_of(Ear(patient, place, scenario, 0).hear(closing, usual.surface_seed).samples));
    }
    return peak;
}

TapTruth truth_of(const Closing& closing, double at_s, const std::vector<Ear>& ears) {
    TapTruth truth;
    truth.contacts = closing.contacts;
    for (auto& c : truth.contacts) {
        c.at_s += at_s;
        c.parted_s += at_s;
    }
    if (truth.contacts.empty()) {
        return truth;
    }
    truth.onset_s = truth.contacts.front().at_s;
    for (const Ear& ear : ears) {
        double first = std::numeric_limits<double>::infinity();
        for (const auto& c : truth.contacts) {
            first = std::min(first, ear.arrival_s(c));
        }
        truth.arrival_s.push_back(first);
    }
    return truth;
}

} // namespace

std::vector<PickupPlace> places(Pickups pickups) {
    switch (pickups) {
    case Pickups::left:
        return {PickupPlace::left};
    case Pickups::right:
        return {PickupPlace::right};
    case Pickups::left_and_right:
        return {PickupPlace::left, PickupPlace::right};
    case Pickups::forehead:
        break;
    }
    return {PickupPlace::forehead};
}

Take make_take(const Scenario& scenario) {
    return make_take(draw_patient(scenario.patient, scenario.mechanics), scenario);
}

Take make_take(const Patient& drawn, const Scenario& scenario) {
    Patient patient = drawn;
    if (scenario.teeth_alike > 0.0) {
        patient.modes = alike_teeth(std::move(patient.modes), scenario.teeth_alike);
    }
    assert(scenario.sample_rate_hz >= 8000.0 && scenario.sample_rate_hz <= 192000.0);
    assert(scenario.taps >= 0 && scenario.lead_s >= 0.0 && scenario.tail_s >= 0.0);
    assert(scenario.tap_scatter >= 0.0 && scenario.closing_speed_m_per_s.value_or(1.0) > 0.0);
    const ClosingSettings settings = fine_enough(scenario.closing, scenario.sample_rate_hz);
    const std::vector<PickupPlace> where = places(scenario.pickups);
    std::vector<Ear> ears;
    ears.reserve(where.size());
    for (const PickupPlace place : where) {
        ears.emplace_back(patient, place, scenario, scenario.seat);
    }
    const double peak = std::pow(10.0, scenario.usual_peak_dbfs / 20.0);
    const double gain = peak / usual_peak(patient, where, scenario, settings);
    const std::vector<PlannedTap> plan =
        plan_taps(tapping_as_asked(patient, scenario), scenario.take, scenario.taps, scenario.lead_s);
    const double end_s = (plan.empty() ? scenario.lead_s : plan.back().at_s) + scenario.tail_s;
    const auto length = static_cast<std::size_t>(std::ceil(end_s * scenario.sample_rate_hz));
    std::vector<std::vector<double>> mix(ears.size(), std::vector<double>(length, 0.0));

    Take take{.sample_rate_hz = scenario.sample_rate_hz};
    for (const PlannedTap& tap : plan) {
        const Closing closing = integrate_closing(patient, scenario.change, tap.approach, settings);
        TapTruth truth = truth_of(closing, tap.at_s, ears);
        for (std::size_t c = 0; c < ears.size(); ++c) {
            const Stretch heard = ears[c].hear(closing, tap.approach.surface_seed);
            add_at(mix[c], scenario.sample_rate_hz, heard, tap.at_s, gain);
            truth.peak.push_back(gain * peak_of(heard.samples));
        }
        take.taps.push_back(std::move(truth));
    }
    if (scenario.room) {
        for (auto& channel : mix) {
            add_room(channel, scenario.sample_rate_hz, *scenario.room);
        }
    }
    for (const ClinicSound& sound : scenario.clinic) {
        const std::vector<double> heard = make_clinic_sound(sound, length, scenario.sample_rate_hz);
        for (auto& channel : mix) {
            std::transform(channel.begin(), channel.end(), heard.begin(), channel.begin(),
                           [peak](double m, double h) { return m + peak * h; });
        }
    }
    const double over_noise_db = scenario.peak_over_noise_db.value_or(patient.peak_over_noise_db);
    for (std::size_t c = 0; c < mix.size(); ++c) {
        Random random(scenario.patient ^ (scenario.take * 0xA0761D6478BD642FULL), "floor " + std::to_string(c));
        const double pink = random.uniform(0.1, 0.7);
        add_noise(mix[c], scenario.sample_rate_hz, peak * std::pow(10.0, -over_noise_db / 20.0),
                  scenario.pink_noise.value_or(pink), random);
        take.channels.emplace_back(mix[c].begin(), mix[c].end());
    }
    return take;
}

} // namespace retap::bite
