// The settings of a comparison one by one, as each_setting.hpp has those of an analysis.
#pragma once

#include "compare/compare_takes.hpp"
#include "dsp/landing/seat_filters.hpp"
#include "dsp/landing/settings.hpp"
#include "report/each_setting.hpp"

namespace retap::report {

template <SettingsOf<dsp::LandingSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [before_ms, after_ms, fade_in_ms, fade_out_ms, noise_part, deepest_db, full_to_hz, none_from_hz, guard_ms,
           search_ms, peak_blur_ms, blur_ms, share_ms, same_tap, chance_density] = settings;
    visit("before_ms", before_ms);
    visit("after_ms", after_ms);
    visit("fade_in_ms", fade_in_ms);
    visit("fade_out_ms", fade_out_ms);
    visit("noise_part", noise_part);
    visit("deepest_db", deepest_db);
    visit("full_to_hz", full_to_hz);
    visit("none_from_hz", none_from_hz);
    visit("guard_ms", guard_ms);
    visit("search_ms", search_ms);
    visit("peak_blur_ms", peak_blur_ms);
    visit("blur_ms", blur_ms);
    visit("share_ms", share_ms);
    visit("same_tap", same_tap);
    visit("chance_density", chance_density);
}

template <SettingsOf<dsp::SeatScatter> S>
void each_setting(S& settings, auto&& visit) {
    auto& [band_db, bands_an_octave, tilt_db_per_octave] = settings;
    visit("band_db", band_db);
    visit("bands_an_octave", bands_an_octave);
    visit("tilt_db_per_octave", tilt_db_per_octave);
}

template <SettingsOf<compare::LandingDifferenceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [seat, seats, usual_seats, seat_figure_db, seat_weight, residual_db, independence, relabellings, seed,
           usual_taps, taps_power] = settings;
    visit("seat", seat);
    visit("seats", seats);
    visit("usual_seats", usual_seats);
    visit("seat_figure_db", seat_figure_db);
    visit("seat_weight", seat_weight);
    visit("residual_db", residual_db);
    visit("independence", independence);
    visit("relabellings", relabellings);
    visit("seed", seed);
    visit("usual_taps", usual_taps);
    visit("taps_power", taps_power);
}

template <SettingsOf<dsp::FirstSoundSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [from_hz, to_hz, blur_ms, sought_ms, after_ms, quiet_ms, sigmas, lasting_ms, noise_part, quietest_db] =
        settings;
    visit("from_hz", from_hz);
    visit("to_hz", to_hz);
    visit("blur_ms", blur_ms);
    visit("sought_ms", sought_ms);
    visit("after_ms", after_ms);
    visit("quiet_ms", quiet_ms);
    visit("sigmas", sigmas);
    visit("lasting_ms", lasting_ms);
    visit("noise_part", noise_part);
    visit("quietest_db", quietest_db);
}

template <SettingsOf<compare::FirstSoundEvidenceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [pooled, further_from_hz, drift_ms, usual, least, most, power, further_blur_ms, tolerance_ms, clear_ms] =
        settings;
    visit("pooled", pooled);
    visit("further_from_hz", further_from_hz);
    visit("drift_ms", drift_ms);
    visit("usual", usual);
    visit("least", least);
    visit("most", most);
    visit("power", power);
    visit("further_blur_ms", further_blur_ms);
    visit("tolerance_ms", tolerance_ms);
    visit("clear_ms", clear_ms);
}

template <SettingsOf<compare::ProfileDifferenceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [residual, max_taps, usual] = settings;
    visit("residual", residual);
    visit("max_taps", max_taps);
    visit("usual", usual);
}

template <SettingsOf<compare::LaterContactsSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [least_ms, min_strength, level, min_ripple, ripples_tried] = settings;
    visit("min_ripple", min_ripple);
    visit("ripples_tried", ripples_tried);
    visit("least_ms", least_ms);
    visit("min_strength", min_strength);
    visit("level", level);
}

template <SettingsOf<compare::LevelEvidenceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [free_db, per_db, repeat_db] = settings;
    visit("free_db", free_db);
    visit("per_db", per_db);
    visit("repeat_db", repeat_db);
}

template <SettingsOf<compare::EvidenceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [limit, beyond, usual_error, usual_taps, sigmas, half_likeness, speaks, least] = settings;
    visit("limit", limit);
    visit("beyond", beyond);
    visit("usual_error", usual_error);
    visit("usual_taps", usual_taps);
    visit("interval_sigmas", sigmas);
    visit("half_likeness", half_likeness);
    visit("speaks", speaks);
    visit("least", least);
}

template <SettingsOf<compare::CompareSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [landing, difference, first_sound, profile, later, level, evidence, min_taps, max_taps, hidden_depth,
           min_alike_band, confidence] = settings;
    visit("landing", landing);
    visit("difference", difference);
    visit("first_sound", first_sound);
    visit("profile", profile);
    visit("later", later);
    visit("level", level);
    visit("evidence", evidence);
    visit("min_taps", min_taps);
    visit("max_taps_a_take", max_taps);
    visit("hidden_depth_db", hidden_depth);
    visit("min_alike_band_hz", min_alike_band);
    visit("shown_confidence", confidence);
}

} // namespace retap::report
