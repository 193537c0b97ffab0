#include "validate/echoes.hpp"

#include "bite/colour.hpp"
#include "bite/noise.hpp"
#include "bite/pickup.hpp"
#include "bite/random.hpp"
#include "bite/sinc_placer.hpp"
#include "compare/compare_takes.hpp"
#include "dsp/base/statistics.hpp"
#include "validate/laid_run.hpp"
#include "validate/simulated.hpp"

#include <algorithm>
#include <cmath>

namespace retap::validate {

namespace {

constexpr double echo_strength = 0.5;
constexpr double echo_peak = 0.2;

// What stays the same for all takes of one seed.
struct Chain {
    const tools::StrikeKit* kit;
    EchoKind kind;
    std::size_t first_layer;
    double gap_s;
    double noise; // RMS, re full scale
};

struct Seat {
    bite::Colour colour{};
    double level = 1.0;
};

Seat put_back(bite::Random& random) {
    const bite::SeatScatter scatter;
    Seat seat{.colour = bite::Colour::scatter(random, scatter.mode_db)};
    seat.colour += bite::Colour::tilt(random.normal(0.0, scatter.tilt_db_per_octave));
    seat.level = amplitude_of(random.normal(0.0, scatter.level_db));
    return seat;
}

dsp::TakeAnalysis take_of(const Chain& chain, const Seat& seat, bool echo, bite::Random& random) {
    std::vector<double> mix(laid_samples(), 0.0);
    const auto& layers = chain.kit->layers;
    const std::size_t start = random.below(layers.size());
    for (std::size_t n = 0; n < laid_taps; ++n) {
        const auto& layer = layers.at(chain.kind.by_turns ? (start + n) % layers.size() : chain.first_layer);
        const double effort = amplitude_of(random.normal(0.0, 1.0));
        const auto play = [&](double at_s, double strength) {
            bite::Stretch sound = layer;
            double level = echo_peak * seat.level * strength;
            if (chain.kind.reseated) {
                bite::Colour colour = seat.colour;
                colour += bite::Colour::scatter(random, 0.8);
                bite::apply_colour(sound.samples, sound.rate_hz, colour);
                level *= amplitude_of(random.normal(0.0, 1.0));
            }
            bite::add_at(mix, laid_rate_hz, sound, at_s, level);
        };
        const double at_s = laid_first_s + laid_every_s * static_cast<double>(n) + random.uniform(0.0, 0.02);
        play(at_s, effort);
        if (echo) {
            play(at_s + chain.gap_s * (1.0 + random.normal(0.0, 0.03)), echo_strength * effort);
        }
    }
    bite::add_noise(mix, laid_rate_hz, chain.noise, 0.0, random);
    return inspect(std::vector<float>(mix.begin(), mix.end()), laid_rate_hz);
}

double contacts_heard(const dsp::TakeAnalysis& take) {
    std::vector<double> counts;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable) {
            counts.push_back(static_cast<double>(tap.contacts.size()));
        }
    }
    return counts.empty() ? 0.0 : dsp::median(counts);
}

} // namespace

std::vector<EchoResult> hear_echoes(std::uint64_t seed, const tools::StrikeKit& kit, const EchoKind& kind) {
    bite::Random random(seed,
                        "echoes " + kit.name + (kind.by_turns ? " by turns" : "") + (kind.reseated ? " reseated" : ""));
    const Chain chain{.kit = &kit,
                      .kind = kind,
                      .first_layer = random.below(kit.layers.size()),
                      .gap_s = 1e-3 * random.log_uniform(0.3, 5.0),
                      .noise = echo_peak * amplitude_of(-random.uniform(28.0, 46.0))};
    std::array<dsp::TakeAnalysis, 2> before; // without the echo, and with it
    std::array<dsp::TakeAnalysis, 2> after;
    for (const std::size_t echo : {0U, 1U}) {
        before.at(echo) = take_of(chain, {}, echo == 1, random);
        after.at(echo) = take_of(chain, kind.reseated ? put_back(random) : Seat{}, echo == 1, random);
    }
    std::vector<EchoResult> results;
    for (std::size_t p = 0; p < echo_pairs.size(); ++p) {
        const dsp::TakeAnalysis& then = before.at(echo_pairs.at(p).before_has_echo ? 1 : 0);
        const dsp::TakeAnalysis& now = after.at(echo_pairs.at(p).after_has_echo ? 1 : 0);
        const compare::Comparison comparison = compare::compare_takes(std::span(&then, 1), std::span(&now, 1));
        results.push_back({.kit = kit.name,
                           .kind = kind,
                           .seed = seed,
                           .pair = p,
                           .gap_ms = 1e3 * chain.gap_s,
                           .verdict = comparison.verdict,
                           .likeness = comparison.likeness.score,
                           .contacts = {contacts_heard(then), contacts_heard(now)}});
    }
    return results;
}

} // namespace retap::validate
