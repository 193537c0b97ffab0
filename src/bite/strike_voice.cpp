#include "bite/strike_voice.hpp"

#include "bite/random.hpp"
#include "bite/sinc_placer.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace retap::bite {

namespace {
constexpr double inaudible = 1e-3; // of a contact at the usual speed
constexpr double margin_s = 1e-3;  // room for the interpolation's skirt before the first contact and after the last

double factor_of(double db) {
    return std::pow(10.0, db / 20.0);
}

std::size_t longest(const std::vector<Stretch>& strikes) {
    return std::ranges::max(strikes, {}, [](const Stretch& s) { return s.samples.size(); }).samples.size();
}
} // namespace

StrikeVoice::StrikeVoice(const Patient& patient, std::span<const Stretch> strikes, PickupPlace place,
                         const SeatScatter& scatter, std::uint64_t seat, const StrikeStyle& style)
    : style_(style), usual_speed_m_per_s_(patient.tapping.speed_m_per_s) {
    assert(!strikes.empty());
    Random random(patient.seed, "strike");
    const std::size_t drawn = random.below(strikes.size());
    strikes_ = style.by_turns ? std::vector(strikes.begin(), strikes.end()) : std::vector{strikes[drawn]};
    for (std::size_t i = 0; i < pair_count; ++i) {
        pair_colour_.at(i) = Colour::scatter(random, style.pair_db);
        pair_level_.at(i) = factor_of(random.normal(0.0, style.pair_level_db));
    }
    Random tone(patient.seed, stream_at("strike tone", place));
    colour_ = Colour::scatter(tone, style.patient_db);
    if (seat != 0) {
        Random seating(patient.seed ^ (seat * 0x9E3779B97F4A7C15ULL), stream_at("strike seat", place));
        level_ = factor_of(seating.normal(0.0, scatter.level_db));
        colour_ += Colour::tilt(seating.normal(0.0, scatter.tilt_db_per_octave));
        colour_ += Colour::scatter(seating, scatter.mode_db);
    }
}

Stretch StrikeVoice::hear(std::span<const ContactEvent> contacts, const Pickup& pickup, std::uint64_t tap_seed) const {
    Stretch out{.rate_hz = strikes_.front().rate_hz};
    if (contacts.empty()) {
        return out;
    }
    double first_s = std::numeric_limits<double>::infinity();
    double last_s = -first_s;
    for (const auto& c : contacts) {
        first_s = std::min(first_s, c.at_s + pickup.delay_s.at(c.pair));
        last_s = std::max(last_s, c.at_s + pickup.delay_s.at(c.pair));
    }
    const double long_s = last_s - first_s + 2.0 * margin_s;
    out.start_s = first_s - margin_s;
    out.samples.assign(static_cast<std::size_t>(long_s * out.rate_hz) + longest(strikes_), 0.0);
    Random random(tap_seed, "contacts");
    Random turns(tap_seed, "turns");
    std::size_t turn = turns.below(strikes_.size());
    for (const auto& c : contacts) {
        Colour colour = colour_;
        colour += pair_colour_.at(c.pair);
        colour += Colour::scatter(random, style_.contact_db);
        const double scatter = factor_of(random.normal(0.0, style_.contact_level_db));
        const double speed = std::max(0.0, c.speed_m_per_s) / usual_speed_m_per_s_;
        const double lightness = c.share == 1.0 ? 1.0 : std::pow(c.share, style_.stiffness_power);
        const double amplitude = std::pow(speed, style_.speed_power) * lightness * pair_level_.at(c.pair) * scatter;
        if (amplitude < inaudible) {
            continue;
        }
        Stretch played = strikes_[turn++ % strikes_.size()];
        apply_colour(played.samples, played.rate_hz, colour);
        const double at_s = c.at_s + pickup.delay_s.at(c.pair) - out.start_s;
        add_at(out.samples, out.rate_hz, played, at_s, level_ * amplitude * pickup.path_gain.at(c.pair));
    }
    return out;
}

} // namespace retap::bite
