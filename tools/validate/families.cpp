#include "validate/families.hpp"

#include "bite/random.hpp"

#include <cassert>

namespace retap::validate {

std::string_view name(Sound sound) {
    switch (sound) {
    case Sound::strikes:
        return "strikes";
    case Sound::turns:
        return "turns";
    case Sound::modal:
        break;
    }
    return "modal";
}

std::string name(const Family& family) {
    return std::string(bite::name(family.mechanics)) + "-" + std::string(name(family.sound));
}

std::vector<Family> usual_families() {
    std::vector<Family> families;
    for (const bite::Mechanics mechanics : bite::all_mechanics) {
        families.push_back({.mechanics = mechanics, .sound = Sound::modal});
        families.push_back({.mechanics = mechanics, .sound = Sound::strikes});
    }
    return families;
}

std::vector<Family> families_named(std::string_view word) {
    std::vector<Family> named;
    for (const bite::Mechanics mechanics : bite::all_mechanics) {
        for (const Sound sound : all_sounds) {
            const Family family{.mechanics = mechanics, .sound = sound};
            const bool usual = sound != Sound::turns;
            if (name(family) == word || name(sound) == word || (bite::name(mechanics) == word && usual)) {
                named.push_back(family);
            }
        }
    }
    return named;
}

Recordings load_recordings() {
    return {.strikes = tools::sounds_of(tools::load_strikes()), .kits = tools::load_kits()};
}

bite::Scenario scenario_of(const Family& family, std::uint64_t patient, const Recordings& recordings) {
    bite::Random random(patient, "recording chain");
    bite::Scenario scenario{.patient = patient, .mechanics = family.mechanics};
    scenario.usual_peak_dbfs = random.uniform(-24.0, -12.0);
    scenario.pink_noise = random.uniform(0.1, 0.7);
    scenario.teeth_alike = random.uniform(0.0, 0.95);
    scenario.blow_scatter = random.log_uniform(0.05, 0.4);
    scenario.tap_scatter = random.log_uniform(0.7, 2.0);
    scenario.seat_scatter = {.mode_db = random.log_uniform(0.8, 3.0),
                             .tilt_db_per_octave = random.log_uniform(0.5, 2.0),
                             .level_db = random.uniform(1.0, 2.0),
                             .shift_m = random.log_uniform(0.001, 0.005)};
    const double side = random.uniform(0.0, 1.0);
    scenario.pickups = side < 1.0 / 6.0   ? bite::Pickups::left
                       : side < 1.0 / 3.0 ? bite::Pickups::right
                                          : bite::Pickups::forehead;
    if (random.uniform(0.0, 1.0) < 0.5) {
        scenario.room = bite::Room{
            .level_db = random.uniform(-40.0, -25.0), .reverberation_s = random.uniform(0.3, 0.6), .seed = patient};
    }
    if (family.sound == Sound::strikes) {
        scenario.strikes = recordings.strikes;
    } else if (family.sound == Sound::turns) {
        assert(!recordings.kits.empty());
        scenario.strikes = recordings.kits.at(random.below(recordings.kits.size())).layers;
        scenario.strike_style.by_turns = true;
    }
    return scenario;
}

} // namespace retap::validate
