#include "validate/taps_found.hpp"

#include "bite/tap_plan.hpp"
#include "take_file.hpp"
#include "validate/aubio.hpp"
#include "validate/match_onsets.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace retap::validate {

namespace {

constexpr int taps = 8;
constexpr double lead_s = 2.2;
constexpr double tail_s = 2.0;

constexpr std::array<std::string_view, 5> noises{"suction", "handpiece", "hum", "room", "all machines"};

double power_db(double share) {
    return 10.0 * std::log10(share);
}

std::vector<bite::ClinicSoundKind> machines(std::string_view noise) {
    using Kind = bite::ClinicSoundKind;
    if (noise == "suction") {
        return {Kind::suction};
    }
    if (noise == "handpiece") {
        return {Kind::handpiece};
    }
    if (noise == "hum") {
        return {Kind::hum};
    }
    return noise == "room" ? std::vector<Kind>{} : std::vector<Kind>{Kind::suction, Kind::handpiece, Kind::hum};
}

bite::Scenario in_clinic(const Family& family, std::uint64_t patient, const Recordings& recordings, std::size_t level) {
    const double snr_db = clinic_snr_db.at(level);
    const std::string_view noise = noises.at(patient % noises.size());
    bite::Scenario scenario = scenario_of(family, patient, recordings);
    scenario.take = 20 + level;
    scenario.seat = level;
    scenario.taps = taps;
    scenario.room.reset();
    scenario.lead_s = lead_s;
    scenario.tail_s = tail_s;
    const std::uint64_t seed = patient * 16 + level;
    const auto kinds = machines(noise);
    for (const auto kind : kinds) {
        const double level_db = -snr_db + power_db(0.75 / static_cast<double>(kinds.size()));
        scenario.clinic.push_back({.kind = kind, .level_db = level_db, .seed = seed});
    }
    scenario.peak_over_noise_db = snr_db - (kinds.empty() ? 0.0 : power_db(0.25));
    if (kinds.empty()) {
        scenario.room = bite::Room{.seed = seed};
    }
    scenario.clinic.push_back(
        {.kind = bite::ClinicSoundKind::speech, .level_db = -20.0, .from_s = 0.2, .to_s = 1.8, .seed = seed});
    const double last_s =
        bite::plan_taps(bite::draw_patient(patient, family.mechanics), scenario.take, taps, scenario.lead_s)
            .back()
            .at_s;
    scenario.clinic.push_back({.kind = bite::ClinicSoundKind::clunks,
                               .level_db = -6.0,
                               .from_s = last_s + 0.6,
                               .to_s = last_s + 1.8,
                               .seed = seed});
    return scenario;
}

std::vector<double> arrivals_s(const bite::Take& take) {
    std::vector<double> arrivals;
    for (const bite::TapTruth& tap : take.taps) {
        if (!tap.arrival_s.empty()) {
            arrivals.push_back(tap.arrival_s.front());
        }
    }
    return arrivals;
}

Found counted(const OnsetMatch& match) {
    return {.right = match.pairs.size(), .missed = match.missed, .extra = match.extra};
}

// Where the found onsets lie that belong to no true one.
std::array<std::size_t, 3> places_of_extra(std::span<const double> truth_s, std::span<const double> found_s,
                                           const OnsetMatch& match) {
    std::vector<bool> right(found_s.size(), false);
    for (const auto& [t, f] : match.pairs) {
        right[f] = true;
    }
    std::array<std::size_t, 3> places{};
    for (std::size_t f = 0; f < found_s.size() && !truth_s.empty(); ++f) {
        if (!right[f]) {
            ++places.at(found_s[f] < truth_s.front() ? 0 : (found_s[f] < truth_s.back() ? 1 : 2));
        }
    }
    return places;
}

} // namespace

double f_measure(const Found& found) {
    const auto all = static_cast<double>(2 * found.right + found.missed + found.extra);
    return all > 0.0 ? 2.0 * static_cast<double>(found.right) / all : 1.0;
}

std::vector<TapsResult> find_taps(const Family& family, std::uint64_t patient, const Recordings& recordings,
                                  const std::filesystem::path& workshop) {
    std::vector<TapsResult> results;
    for (std::size_t level = 0; level < clinic_snr_db.size(); ++level) {
        const bite::Take take = bite::make_take(in_clinic(family, patient, recordings, level));
        const std::vector<double> truth_s = arrivals_s(take);
        const dsp::TakeAnalysis heard = inspect(take.channels.front(), take.sample_rate_hz);
        std::vector<double> found_s;
        std::ranges::transform(heard.taps, std::back_inserter(found_s), &dsp::Tap::onset_s);
        const OnsetMatch match = match_onsets(truth_s, found_s, onset_reach_s);
        TapsResult result{.family = family,
                          .patient = patient,
                          .snr_db = clinic_snr_db.at(level),
                          .noise = noises.at(patient % noises.size()),
                          .retap = counted(match),
                          .extra_before_among_after = places_of_extra(truth_s, found_s, match)};
        for (const auto& [t, f] : match.pairs) {
            if (heard.taps[f].usable) {
                result.onset_error_ms.push_back(1e3 * (found_s[f] - truth_s[t]));
            }
        }
        if (!workshop.empty()) {
            const auto file =
                workshop / (name(family) + std::to_string(patient) + "-" + std::to_string(level) + ".wav");
            tools::write_take(file, take, audio::SoundFormat::wav_24);
            result.aubio = counted(match_onsets(truth_s, aubio_onsets_s(file), onset_reach_s));
            std::filesystem::remove(file);
        }
        results.push_back(std::move(result));
    }
    return results;
}

} // namespace retap::validate
