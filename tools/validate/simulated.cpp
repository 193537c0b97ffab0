#include "validate/simulated.hpp"

#include "audio/inspect_file.hpp"
#include "bite/pickup.hpp"
#include "bite/random.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace retap::validate {

namespace {

std::size_t tooth_in_contact(std::uint64_t patient_seed, std::string_view condition) {
    const bite::Patient patient = bite::draw_patient(patient_seed);
    std::vector<std::size_t> touching;
    for (std::size_t i = 0; i < bite::pair_count; ++i) {
        if (patient.pairs.at(i).in_contact) {
            touching.push_back(i);
        }
    }
    bite::Random random(patient_seed, "validated tooth " + std::string(condition));
    return touching[random.below(touching.size())];
}

} // namespace

std::string_view name(Family family) {
    return family == Family::modal ? "modal" : "strikes";
}

bite::Scenario take_before(std::uint64_t patient, std::span<const bite::Stretch> strikes) {
    return {.patient = patient, .take = 1, .seat = 0, .strikes = strikes};
}

bite::Scenario take_after(std::uint64_t patient, std::span<const bite::Stretch> strikes, std::size_t which) {
    const Condition& condition = conditions.at(which);
    bite::Scenario scenario{.patient = patient, .take = which + 2, .seat = which + 1, .strikes = strikes};
    if (condition.height_um != 0.0) {
        scenario.change.heights.push_back(
            {.pair = tooth_in_contact(patient, condition.name), .height_um = condition.height_um});
    }
    return scenario;
}

dsp::TakeAnalysis inspect(std::vector<float> samples, double rate_hz) {
    return audio::inspect_sound({.sample_rate_hz = rate_hz, .channels = 1, .interleaved = std::move(samples)}, "");
}

HeardTake hear(const bite::Scenario& scenario) {
    bite::Take take = bite::make_take(scenario);
    dsp::TakeAnalysis heard = inspect(std::move(take.channels.front()), take.sample_rate_hz);
    return {.scenario = scenario, .truth = std::move(take.taps), .heard = std::move(heard)};
}

std::vector<double> first_arrivals_s(const bite::Scenario& scenario, const bite::TapTruth& tap) {
    const bite::Patient patient = bite::draw_patient(scenario.patient);
    const auto place = bite::PickupPlace::forehead;
    const bite::Pickup pickup =
        bite::reseat(bite::place_pickup(patient, place), patient, place, scenario.seat_scatter, scenario.seat);
    std::array<bool, bite::pair_count> seen{};
    std::vector<double> arrivals;
    for (const bite::ContactEvent& contact : tap.contacts) {
        if (!std::exchange(seen.at(contact.pair), true)) {
            arrivals.push_back(contact.at_s + pickup.delay_s.at(contact.pair));
        }
    }
    std::ranges::sort(arrivals);
    return arrivals;
}

} // namespace retap::validate
