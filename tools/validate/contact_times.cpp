#include "validate/contact_times.hpp"

#include "bite/colour.hpp"
#include "bite/noise.hpp"
#include "bite/pickup.hpp"
#include "bite/random.hpp"
#include "bite/sinc_placer.hpp"
#include "bite/tap_plan.hpp"
#include "validate/laid_run.hpp"
#include "validate/timing_bound.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

namespace retap::validate {

namespace {

constexpr double mixed_peak = 0.3;
constexpr double tap_reach_s = 0.010; // a found tap belongs to a made one this near

double largest(std::span<const double> samples) {
    double most = 0.0;
    for (const double s : samples) {
        most = std::max(most, std::abs(s));
    }
    return most;
}

const dsp::Tap* tap_near(const dsp::TakeAnalysis& take, double at_s) {
    const auto near = [at_s](const dsp::Tap& tap) { return std::abs(tap.onset_s - at_s); };
    const auto best = std::ranges::min_element(take.taps, {}, near);
    return best != take.taps.end() && near(*best) <= tap_reach_s ? &*best : nullptr;
}

// The reported contact nearest to the second arrival; the first of a tap is its onset and cannot be it.
void read_off(ContactResult& result, const dsp::Tap* tap) {
    if (tap == nullptr) {
        return;
    }
    result.heard = tap->contacts.size();
    for (std::size_t c = 1; c < tap->contacts.size() && result.gap_ms > 0.0; ++c) {
        const double error = tap->contacts[c].at_ms - tap->contacts.front().at_ms - result.gap_ms;
        if (std::abs(error) <= contact_reach_ms && (!result.error_ms || std::abs(error) < std::abs(*result.error_ms))) {
            result.error_ms = error;
        }
    }
}

struct DoubleStrike {
    double gap_s;
    double second; // amplitude, the first being 1; 0: no second
};

struct MadeStrikes {
    std::vector<float> samples{};
    std::vector<double> onset_s{};
    std::vector<double> gap_s{};
    double noise = 0.0; // RMS, re the strike's peak
};

MadeStrikes make_strikes(const bite::Stretch& strike, const DoubleStrike& what, bite::Random& random) {
    std::vector<double> mix(laid_samples(), 0.0);
    MadeStrikes made;
    const auto play = [&](double at_s, double size) {
        bite::Stretch coloured = strike;
        bite::apply_colour(coloured.samples, coloured.rate_hz, bite::Colour::scatter(random, 0.8));
        bite::add_at(mix, laid_rate_hz, coloured, at_s, size * amplitude_of(random.normal(0.0, 1.0)));
    };
    for (int n = 0; n < laid_taps; ++n) {
        const double at_s = laid_first_s + laid_every_s * n + random.uniform(0.0, 0.02);
        const double gap_s = what.gap_s * (1.0 + random.normal(0.0, 0.03));
        play(at_s, 1.0);
        if (what.second > 0.0) {
            play(at_s + gap_s, what.second);
        }
        made.onset_s.push_back(at_s);
        made.gap_s.push_back(what.second > 0.0 ? gap_s : 0.0);
    }
    const double loudest = largest(mix);
    made.noise = loudest * amplitude_of(-random.uniform(28.0, 46.0));
    bite::add_noise(mix, laid_rate_hz, made.noise, 0.0, random);
    std::ranges::transform(mix, std::back_inserter(made.samples),
                           [&](double s) { return static_cast<float>(mixed_peak / loudest * s); });
    return made;
}

void append_strikes(std::vector<ContactResult>& results, std::uint64_t seed, const bite::Stretch& strike,
                    const DoubleStrike& what, bite::Random& random) {
    const MadeStrikes made = make_strikes(strike, what, random);
    const dsp::TakeAnalysis heard = inspect(made.samples, laid_rate_hz);
    for (std::size_t n = 0; n < made.onset_s.size(); ++n) {
        ContactResult result{.source = what.second > 0.0 ? "double strike" : "single strike",
                             .patient = seed,
                             .gap_ms = 1e3 * made.gap_s[n]};
        if (what.second > 0.0) {
            result.bound_ms = 1e3 * gap_bound_s(strike.samples, {.rate_hz = strike.rate_hz,
                                                                 .gap_s = made.gap_s[n],
                                                                 .first = 1.0,
                                                                 .second = what.second,
                                                                 .noise = made.noise});
        }
        read_off(result, tap_near(heard, made.onset_s[n]));
        results.push_back(result);
    }
}

// What the first pick-up hears of the patient's usual tap, scaled to a peak of 1.
std::vector<double> usual_sound(const bite::Patient& patient, const bite::Scenario& scenario) {
    const bite::PickupPlace place = bite::places(scenario.pickups).front();
    const bite::Pickup pickup =
        bite::reseat(bite::place_pickup(patient, place), patient, place, scenario.seat_scatter, scenario.seat);
    const bite::Closing closing = bite::integrate_closing(patient, {}, bite::usual_approach(patient), scenario.closing);
    const bite::Stretch heard = bite::hear_closing(closing, patient, pickup);
    std::vector<double> sound(
        static_cast<std::size_t>(std::max(0.0, heard.start_s) * laid_rate_hz) + heard.samples.size() / 2 + 64, 0.0);
    bite::add_at(sound, laid_rate_hz, heard, 0.0, 1.0);
    const double most = largest(sound);
    std::ranges::for_each(sound, [most](double& s) { s /= most; });
    return sound;
}

// Impulse of the pair that lands first, as a share of what the others bring.
double first_share(const bite::TapTruth& tap) {
    double first = 0.0;
    double others = 0.0;
    for (const bite::ContactEvent& contact : tap.contacts) {
        (contact.pair == tap.contacts.front().pair ? first : others) += contact.impulse_n_s;
    }
    return others > 0.0 ? first / others : 1.0;
}

} // namespace

std::vector<ContactResult> double_strikes(std::uint64_t seed, std::span<const bite::Stretch> strikes) {
    bite::Random random(seed, "double strikes");
    const bite::Stretch& strike = strikes[random.below(strikes.size())];
    std::vector<ContactResult> results;
    append_strikes(results, seed, strike, {.gap_s = 0.0, .second = 0.0}, random);
    for (std::size_t band = 0; band + 1 < gap_edges_ms.size(); ++band) {
        const double gap_s = 1e-3 * random.log_uniform(gap_edges_ms.at(band), gap_edges_ms.at(band + 1));
        append_strikes(results, seed, strike, {.gap_s = gap_s, .second = random.log_uniform(0.5, 4.0)}, random);
    }
    return results;
}

std::vector<ContactResult> high_spot(const HeardTake& take) {
    bite::Patient patient = bite::draw_patient(take.scenario.patient, take.scenario.mechanics);
    patient.modes = bite::alike_teeth(std::move(patient.modes), take.scenario.teeth_alike);
    const std::vector<double> sound = usual_sound(patient, take.scenario);
    std::vector<ContactResult> results;
    for (const bite::TapTruth& tap : take.truth) {
        const std::vector<double> arrivals = first_arrivals_s(take.scenario, tap);
        if (arrivals.size() < 2 || 1e3 * (arrivals[1] - arrivals[0]) < min_gap_ms) {
            continue;
        }
        ContactResult result{
            .source = "high spot", .patient = take.scenario.patient, .gap_ms = 1e3 * (arrivals[1] - arrivals[0])};
        result.bound_ms = 1e3 * gap_bound_s(sound, {.rate_hz = laid_rate_hz,
                                                    .gap_s = 1e-3 * result.gap_ms,
                                                    .first = first_share(tap),
                                                    .second = 1.0,
                                                    .noise = amplitude_of(-patient.peak_over_noise_db)});
        read_off(result, tap_near(take.heard, arrivals.front()));
        results.push_back(result);
    }
    return results;
}

} // namespace retap::validate
