#include "compare/compare_takes.hpp"
#include "dsp/base/take.hpp"
#include "dsp/landing/seat_filters.hpp"
#include "dsp/landing/settings.hpp"
#include "report/each_setting.hpp"
#include "report/json.hpp"

#include <type_traits>
#include <utility>

// Each struct is taken apart whole: a setting that is added and not written here does not compile.
namespace retap::report {
namespace {

/// Writes down each setting it is shown.
struct Writer {
    Json& out;

    template <class T>
    void operator()(const char* name, const T& value) const {
        if constexpr (std::is_arithmetic_v<T>) {
            out[name] = value;
        } else if constexpr (std::is_same_v<T, dsp::Level>) {
            out[name] = value.db();
        } else if constexpr (std::is_same_v<T, dsp::Frequency>) {
            out[name] = value.hz();
        } else {
            out[name] = Json::object();
            each_setting(value, Writer{out[name]});
        }
    }
};

Json json_of(const dsp::LandingSettings& settings) {
    const auto& [before_ms, after_ms, fade_in_ms, fade_out_ms, noise_part, deepest_db, full_to_hz, none_from_hz,
                 guard_ms, search_ms, peak_blur_ms, blur_ms, share_ms, same_tap, chance_density] = settings;
    return {{"before_ms", before_ms},     {"after_ms", after_ms},         {"fade_in_ms", fade_in_ms},
            {"fade_out_ms", fade_out_ms}, {"noise_part", noise_part},     {"deepest_db", deepest_db},
            {"full_to_hz", full_to_hz},   {"none_from_hz", none_from_hz}, {"guard_ms", guard_ms},
            {"search_ms", search_ms},     {"peak_blur_ms", peak_blur_ms}, {"blur_ms", blur_ms},
            {"share_ms", share_ms},       {"same_tap", same_tap},         {"chance_density", chance_density}};
}

Json json_of(const dsp::SeatScatter& settings) {
    const auto& [band_db, bands_an_octave, tilt_db_per_octave] = settings;
    return {{"band_db", band_db}, {"bands_an_octave", bands_an_octave}, {"tilt_db_per_octave", tilt_db_per_octave}};
}

Json json_of(const compare::LandingDifferenceSettings& settings) {
    const auto& [seat, seats, usual_seats, seat_figure_db, seat_weight, residual_db, independence, relabellings, seed,
                 usual_taps, taps_power] = settings;
    return {{"seat", json_of(seat)},
            {"seats", seats},
            {"usual_seats", usual_seats},
            {"seat_figure_db", seat_figure_db},
            {"seat_weight", seat_weight},
            {"residual_db", residual_db},
            {"independence", independence},
            {"relabellings", relabellings},
            {"seed", seed},
            {"usual_taps", usual_taps},
            {"taps_power", taps_power}};
}

Json json_of(const dsp::FirstSoundSettings& settings) {
    const auto& [from_hz, to_hz, blur_ms, sought_ms, after_ms, quiet_ms, sigmas, lasting_ms, noise_part, quietest_db] =
        settings;
    return {{"from_hz", from_hz},        {"to_hz", to_hz},           {"blur_ms", blur_ms},
            {"sought_ms", sought_ms},    {"after_ms", after_ms},     {"quiet_ms", quiet_ms},
            {"sigmas", sigmas},          {"lasting_ms", lasting_ms}, {"noise_part", noise_part},
            {"quietest_db", quietest_db}};
}

Json json_of(const compare::FirstSoundEvidenceSettings& settings) {
    const auto& [pooled, further_from_hz, drift_ms, usual, least, most, power, further_blur_ms, tolerance_ms,
                 clear_ms] = settings;
    return {{"pooled", json_of(pooled)},
            {"further_from_hz", further_from_hz},
            {"drift_ms", drift_ms},
            {"usual", usual},
            {"least", least},
            {"most", most},
            {"power", power},
            {"further_blur_ms", further_blur_ms},
            {"tolerance_ms", tolerance_ms},
            {"clear_ms", clear_ms}};
}

Json json_of(const compare::ProfileDifferenceSettings& settings) {
    const auto& [residual, max_taps, usual] = settings;
    return {{"residual", residual}, {"max_taps", max_taps}, {"usual", usual}};
}

Json json_of(const compare::LaterContactsSettings& settings) {
    const auto& [least_ms, min_strength, level, min_ripple, ripples_tried] = settings;
    return {{"min_ripple", min_ripple},
            {"ripples_tried", ripples_tried},
            {"least_ms", least_ms},
            {"min_strength", min_strength},
            {"level", level}};
}

Json json_of(const compare::LevelEvidenceSettings& settings) {
    const auto& [free_db, per_db, repeat_db] = settings;
    return {{"free_db", free_db}, {"per_db", per_db}, {"repeat_db", repeat_db}};
}

Json json_of(const compare::EvidenceSettings& settings) {
    const auto& [limit, beyond, usual_error, usual_taps, sigmas, half_likeness, speaks, least] = settings;
    return {{"limit", limit},
            {"beyond", beyond},
            {"usual_error", usual_error},
            {"usual_taps", usual_taps},
            {"interval_sigmas", sigmas},
            {"half_likeness", half_likeness},
            {"speaks", speaks},
            {"least", least}};
}

Json json_of(const compare::CompareSettings& settings) {
    const auto& [landing, difference, first_sound, profile, later, level, evidence, min_taps, max_taps, hidden_depth,
                 min_alike_band, confidence] = settings;
    return {{"landing", json_of(landing)},
            {"difference", json_of(difference)},
            {"first_sound", json_of(first_sound)},
            {"profile", json_of(profile)},
            {"later", json_of(later)},
            {"level", json_of(level)},
            {"evidence", json_of(evidence)},
            {"min_taps", min_taps},
            {"max_taps_a_take", max_taps},
            {"hidden_depth_db", hidden_depth},
            {"min_alike_band_hz", min_alike_band},
            {"shown_confidence", confidence}};
}

} // namespace

Json settings_json(const dsp::TakeAnalysis& take) {
    Json settings{{"version", RETAP_VERSION}, {"analysis_rate_hz", dsp::analysis_rate_hz}};
    if (take.settings) {
        each_setting(*take.settings, Writer{settings});
        Json bands = Json::array();
        for (const auto& [from_hz, to_hz] : dsp::arrival_bands) {
            bands.push_back({from_hz, to_hz});
        }
        settings["arrival"]["bands_hz"] = std::move(bands);
        settings["arrival"]["shares"] = dsp::arrival_shares;
    }
    return settings;
}

Json settings_json(const compare::Comparison& comparison) {
    Json settings = settings_json(comparison.before);
    settings["compare"] = json_of(compare::CompareSettings{});
    return settings;
}

} // namespace retap::report
