#include "validate/simulated.hpp"

#include "audio/inspect_file.hpp"
#include "bite/pickup.hpp"
#include "bite/random.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace retap::validate {

namespace {

constexpr std::uint64_t repeats_apart = 1000; // of the seeds of takes and seats

std::size_t tooth_in_contact(const bite::Scenario& scenario) {
    const bite::Patient patient = bite::draw_patient(scenario.patient, scenario.mechanics);
    std::vector<std::size_t> touching;
    for (std::size_t i = 0; i < bite::pair_count; ++i) {
        if (patient.pairs.at(i).in_contact) {
            touching.push_back(i);
        }
    }
    bite::Random random(scenario.patient, "validated tooth");
    return touching[random.below(touching.size())];
}

} // namespace

bite::Scenario take_before(const Family& family, std::uint64_t patient, const Recordings& recordings,
                           const Repeat& repeat) {
    bite::Scenario scenario = scenario_of(family, patient, recordings);
    scenario.take = 1 + repeats_apart * repeat.number;
    scenario.seat = repeat.new_seat ? repeats_apart * repeat.number : 0;
    return scenario;
}

bite::Scenario take_after(const Family& family, std::uint64_t patient, const Recordings& recordings, std::size_t which,
                          const Repeat& repeat) {
    const Condition& condition = conditions.at(which);
    bite::Scenario scenario = scenario_of(family, patient, recordings);
    scenario.take = which + 2 + repeats_apart * repeat.number;
    scenario.seat = which + 1 + (repeat.new_seat ? repeats_apart * repeat.number : 0);
    if (condition.height_um != 0.0) {
        scenario.change.heights.push_back({.pair = tooth_in_contact(scenario), .height_um = condition.height_um});
    }
    return scenario;
}

dsp::TakeAnalysis inspect(std::vector<float> samples, double rate_hz) {
    return audio::inspect_sound({.sample_rate_hz = rate_hz, .channels = 1, .interleaved = std::move(samples)}, "");
}

dsp::TakeAnalysis inspect(const bite::Take& take) {
    const std::size_t channels = take.channels.size();
    std::vector<float> interleaved(take.channels.front().size() * channels);
    for (std::size_t c = 0; c < channels; ++c) {
        for (std::size_t n = 0; n < take.channels[c].size(); ++n) {
            interleaved[n * channels + c] = take.channels[c][n];
        }
    }
    return audio::inspect_sound({.sample_rate_hz = take.sample_rate_hz,
                                 .channels = static_cast<int>(channels),
                                 .interleaved = std::move(interleaved)},
                                "");
}

HeardTake hear(const bite::Scenario& scenario, bite::Take take) {
    dsp::TakeAnalysis heard = inspect(take);
    RivalFeatures rivals = rival_features(heard);
    return {
        .scenario = scenario, .truth = std::move(take.taps), .heard = std::move(heard), .rivals = std::move(rivals)};
}

HeardTake hear(const bite::Scenario& scenario) {
    return hear(scenario, bite::make_take(scenario));
}

std::vector<double> first_arrivals_s(const bite::Scenario& scenario, const bite::TapTruth& tap) {
    const bite::Patient patient = bite::draw_patient(scenario.patient, scenario.mechanics);
    const bite::PickupPlace place = bite::places(scenario.pickups).front();
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
