// The settings of an analysis one by one, each with the name it has in JSON: for writing them down, and for trying what
// each of them does. Every struct is taken apart whole: a setting that is added and not named here does not compile.
#pragma once

#include "dsp/analysis_settings.hpp"

#include <concepts>
#include <type_traits>

namespace retap::report {

/// T or const T.
template <class S, class T>
concept SettingsOf = std::same_as<std::remove_const_t<S>, T>;

/// Each of these calls visit(name, value) for every member: a number, a Level in dB, a Frequency in Hz, or a struct of
/// further settings that there is an each_setting() for. Values may be changed when `settings` may.
template <SettingsOf<dsp::EventDetector::Settings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [threshold, lag_s, ahead_s, around_s, joined_s, apart_s, window_s, quantile, min_joined] = settings;
    visit("threshold", threshold);
    visit("lag_s", lag_s);
    visit("ahead_s", ahead_s);
    visit("around_s", around_s);
    visit("joined_s", joined_s);
    visit("apart_s", apart_s);
    visit("floor_window_s", window_s);
    visit("floor_quantile", quantile);
    visit("min_joined", min_joined);
}

template <SettingsOf<dsp::TapLimits> S>
void each_setting(S& settings, auto&& visit) {
    auto& [over_noise, prominence, rise_ms, fall_ms, jump, before, after, busy, below, octaves] = settings;
    visit("min_over_noise_db", over_noise);
    visit("min_prominence", prominence);
    visit("longest_rise_ms", rise_ms);
    visit("longest_fall_ms", fall_ms);
    visit("min_jump_db", jump);
    visit("max_before_db", before);
    visit("max_after_db", after);
    visit("max_busy", busy);
    visit("max_below_db", below);
    visit("min_octaves", octaves);
}

template <SettingsOf<dsp::Oddness> S>
void each_setting(S& settings, auto&& visit) {
    auto& [pattern_db, level_db, abruptness_db, interval, max_pattern, max_level, max_abruptness, max_beat] = settings;
    visit("pattern_db", pattern_db);
    visit("level_db", level_db);
    visit("abruptness_db", abruptness_db);
    visit("interval", interval);
    visit("max_pattern", max_pattern);
    visit("max_level", max_level);
    visit("max_abruptness", max_abruptness);
    visit("max_beat", max_beat);
}

template <SettingsOf<dsp::ChainLimits> S>
void each_setting(S& settings, auto&& visit) {
    auto& [nearest, around, like_db, like_spread, strange, strange_spread, max_like, max_strange, max_level, as_sudden,
           sudden, faint, max_faint, max_prior, company_s, like, convincing, unconvincing, on_beat, max_off_beat,
           missed, pause, shortest_pause, widest_gap] = settings;
    visit("nearest", nearest);
    visit("around", around);
    visit("like_db", like_db);
    visit("like_spread", like_spread);
    visit("strange", strange);
    visit("strange_spread", strange_spread);
    visit("max_like", max_like);
    visit("max_strange", max_strange);
    visit("max_level", max_level);
    visit("as_sudden", as_sudden);
    visit("sudden", sudden);
    visit("faint", faint);
    visit("max_faint", max_faint);
    visit("max_prior", max_prior);
    visit("company_s", company_s);
    visit("like", like);
    visit("convincing", convincing);
    visit("unconvincing", unconvincing);
    visit("on_beat", on_beat);
    visit("max_off_beat", max_off_beat);
    visit("missed", missed);
    visit("pause", pause);
    visit("shortest_pause", shortest_pause);
    visit("widest_gap", widest_gap);
}

template <SettingsOf<dsp::RunLimits> S>
void each_setting(S& settings, auto&& visit) {
    auto& [oddness, taps, alike, together_s, chain, interval_s, evidence, for_each, for_steady, level_apart_db,
           widest_level_apart_db, prominence, steady_taps, faintest, likeness, off_beat, to_closest, pause_s,
           pause_factor] = settings;
    visit("oddness", oddness);
    visit("min_taps", taps);
    visit("alike", alike);
    visit("together_s", together_s);
    visit("chain", chain);
    visit("shortest_interval_s", interval_s);
    visit("min_evidence", evidence);
    visit("min_for_each", for_each);
    visit("min_for_steady", for_steady);
    visit("max_level_apart_db", level_apart_db);
    visit("widest_level_apart_db", widest_level_apart_db);
    visit("min_prominence", prominence);
    visit("steady_taps", steady_taps);
    visit("faintest", faintest);
    visit("min_likeness", likeness);
    visit("nearest_off_beat", off_beat);
    visit("nearest_to_closest", to_closest);
    visit("longest_pause_s", pause_s);
    visit("pause_factor", pause_factor);
}

template <SettingsOf<dsp::TakeSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [before_ms, after_ms, keep_sound_of, group] = settings;
    visit("before_ms", before_ms);
    visit("after_ms", after_ms);
    visit("keep_sound_of", keep_sound_of);
    visit("group", group);
}

template <SettingsOf<dsp::StrayOnsetSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [from_hz, fewest_taps, furthest_ms, min_jump_db, shortly_ms, share, longest_ms] = settings;
    visit("from_hz", from_hz);
    visit("fewest_taps", fewest_taps);
    visit("furthest_ms", furthest_ms);
    visit("min_jump_db", min_jump_db);
    visit("shortly_ms", shortly_ms);
    visit("share", share);
    visit("longest_ms", longest_ms);
}

template <SettingsOf<dsp::StackedOnsetSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [fewest_taps, order, before_ms, after_ms, search_ms, farthest_ms, likeness, range_db, climbed, climb_ms] =
        settings;
    visit("fewest_taps", fewest_taps);
    visit("whitening_order", order);
    visit("before_ms", before_ms);
    visit("after_ms", after_ms);
    visit("search_ms", search_ms);
    visit("farthest_ms", farthest_ms);
    visit("min_likeness", likeness);
    visit("range_db", range_db);
    visit("climbed", climbed);
    visit("max_climb_ms", climb_ms);
}

template <SettingsOf<dsp::ImpactSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [threshold, clear, lead_ms, longest_ms, guard_ms, hit_ms, fade_ms, lowest, highest] = settings;
    visit("threshold_db", threshold);
    visit("clear_of_noise_db", clear);
    visit("lead_ms", lead_ms);
    visit("longest_ms", longest_ms);
    visit("guard_ms", guard_ms);
    visit("hit_definition_ms", hit_ms);
    visit("fade_out_ms", fade_ms);
    visit("lowest_band", lowest);
    visit("highest_band", highest);
}

template <SettingsOf<dsp::ArrivalSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [window_ms, early_ms, quiet_ms, settling_ms, min_ratio] = settings;
    visit("window_ms", window_ms);
    visit("early_ms", early_ms);
    visit("quiet_ms", quiet_ms);
    visit("settling_ms", settling_ms);
    visit("min_ratio", min_ratio);
}

template <SettingsOf<dsp::SpectraSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [lead_ms, decay_ms, fade_out_ms, lowest, highest, guard_ms, noise_part] = settings;
    visit("lead_ms", lead_ms);
    visit("decay_ms", decay_ms);
    visit("fade_out_ms", fade_out_ms);
    visit("lowest_hz", lowest);
    visit("highest_hz", highest);
    visit("guard_ms", guard_ms);
    visit("noise_part", noise_part);
}

template <SettingsOf<dsp::GapSearch> S>
void each_setting(S& settings, auto&& visit) {
    auto& [shortest_ms, longest_ms, step_ms] = settings;
    visit("shortest_ms", shortest_ms);
    visit("longest_ms", longest_ms);
    visit("step_ms", step_ms);
}

template <SettingsOf<dsp::ShiftSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [spectra, search, align_ms, longest_ms, starts, worth_a_look, worth_of_excess, first_steps, worth_going_on,
           max_steps, rounds, widest_scatter, lag_step_ms] = settings;
    visit("spectra", spectra);
    visit("search", search);
    visit("align_ms", align_ms);
    visit("longest_ms", longest_ms);
    visit("starts", starts);
    visit("worth_a_look", worth_a_look);
    visit("worth_of_excess", worth_of_excess);
    visit("first_steps", first_steps);
    visit("worth_going_on", worth_going_on);
    visit("max_steps", max_steps);
    visit("rounds", rounds);
    visit("widest_scatter", widest_scatter);
    visit("lag_step_ms", lag_step_ms);
}

template <SettingsOf<dsp::ContactSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [order, model, prediction, shortest_ms, longest_ms, short_gap_ms, short_decay_ms, long_decay_ms, gain, alike,
           over_ringing, if_later, if_earlier, later, earlier, most_together, shift, explained, over_chance, over_noise,
           shifting] = settings;
    auto& [lead_ms, span_ms, guard_ms, noise_part] = model;
    auto& [line_width, white_noise] = prediction;
    visit("order", order);
    visit("model_lead_ms", lead_ms);
    visit("model_span_ms", span_ms);
    visit("model_guard_ms", guard_ms);
    visit("model_noise_part", noise_part);
    visit("model_line_width", line_width);
    visit("model_white_noise", white_noise);
    visit("shortest_ms", shortest_ms);
    visit("longest_ms", longest_ms);
    visit("short_gap_ms", short_gap_ms);
    visit("short_decay_ms", short_decay_ms);
    visit("long_decay_ms", long_decay_ms);
    visit("min_gain", gain);
    visit("alike_db", alike);
    visit("min_over_ringing", over_ringing);
    visit("min_over_ringing_if_later", if_later);
    visit("min_over_ringing_if_earlier", if_earlier);
    visit("min_later_db", later);
    visit("min_earlier_db", earlier);
    visit("most_together", most_together);
    visit("shift", shift);
    visit("min_explained", explained);
    visit("min_over_chance", over_chance);
    visit("min_over_noise", over_noise);
    visit("min_shifting_db", shifting);
}

template <SettingsOf<dsp::LeadSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [correlation, longest_ms, before_ms, after_ms, min_agreement] = settings;
    auto& [whitening, lowest, highest, upsampling] = correlation;
    visit("whitening", whitening);
    visit("lowest_hz", lowest);
    visit("highest_hz", highest);
    visit("upsampling", upsampling);
    visit("longest_ms", longest_ms);
    visit("before_ms", before_ms);
    visit("after_ms", after_ms);
    visit("min_agreement", min_agreement);
}

template <SettingsOf<dsp::BalanceSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [before_ms, after_ms] = settings;
    visit("before_ms", before_ms);
    visit("after_ms", after_ms);
}

template <SettingsOf<dsp::FitnessRules> S>
void each_setting(S& settings, auto&& visit) {
    auto& [min_taps, good_taps, audible, min_snr_db, good_snr_db, min_band_hz, good_band_hz, min_wall_hz, good_wall_hz,
           max_clipped_share, max_dropouts, gated_share, pumping_db, drift_db, drift_chance] = settings;
    visit("min_taps", min_taps);
    visit("good_taps", good_taps);
    visit("audible_dbfs", audible);
    visit("min_snr_db", min_snr_db);
    visit("good_snr_db", good_snr_db);
    visit("min_band_hz", min_band_hz);
    visit("good_band_hz", good_band_hz);
    visit("min_wall_hz", min_wall_hz);
    visit("good_wall_hz", good_wall_hz);
    visit("max_clipped_share", max_clipped_share);
    visit("max_dropouts", max_dropouts);
    visit("gated_share", gated_share);
    visit("pumping_db", pumping_db);
    visit("drift_db", drift_db);
    visit("drift_chance", drift_chance);
}

template <SettingsOf<dsp::AnalysisSettings> S>
void each_setting(S& settings, auto&& visit) {
    auto& [take, find, run, together, measure, fitness] = settings;
    auto& [events, tap] = find;
    auto& [stray_onsets, stacked_onsets, contacts] = together;
    auto& [impact, arrival, lead, balance] = measure;
    visit("find", events);
    visit("tap", tap);
    visit("run", run);
    visit("take", take);
    visit("impact", impact);
    visit("arrival", arrival);
    visit("contacts", contacts);
    visit("lead", lead);
    visit("balance", balance);
    visit("fitness", fitness);
    visit("stray_onsets", stray_onsets);
    visit("stacked_onsets", stacked_onsets);
}

} // namespace retap::report
