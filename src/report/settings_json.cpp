#include "compare/compare_takes.hpp"
#include "dsp/base/take.hpp"
#include "dsp/contacts/contacts.hpp"
#include "dsp/filters/gcc.hpp"
#include "dsp/find/event_detector.hpp"
#include "dsp/find/tap_rules.hpp"
#include "dsp/landing/seat_filters.hpp"
#include "dsp/landing/settings.hpp"
#include "dsp/measure/arrival_profile.hpp"
#include "dsp/measure/fitness.hpp"
#include "dsp/measure/impact.hpp"
#include "dsp/measure/level_balance.hpp"
#include "dsp/run/qualify_run.hpp"
#include "dsp/take_analyser.hpp"
#include "report/json.hpp"

#include <utility>

// Each struct is taken apart whole: a setting that is added and not written here does not compile.
namespace retap::report {
namespace {

Json json_of(const dsp::EventDetector::Settings& settings) {
    const auto& [threshold, lag_s, ahead_s, around_s, joined_s, apart_s, floor_window_s, min_joined] = settings;
    return {{"threshold", threshold},
            {"lag_s", lag_s},
            {"ahead_s", ahead_s},
            {"around_s", around_s},
            {"joined_s", joined_s},
            {"apart_s", apart_s},
            {"floor_window_s", floor_window_s},
            {"min_joined", min_joined}};
}

Json json_of(const dsp::TapLimits& limits) {
    const auto& [over_noise, prominence, rise_ms, fall_ms, jump, before, after, busy, below, octaves] = limits;
    return {{"min_over_noise_db", over_noise.db()},
            {"min_prominence", prominence},
            {"longest_rise_ms", rise_ms},
            {"longest_fall_ms", fall_ms},
            {"min_jump_db", jump.db()},
            {"max_before_db", before.db()},
            {"max_after_db", after.db()},
            {"max_busy", busy},
            {"max_below_db", below.db()},
            {"min_octaves", octaves}};
}

Json json_of(const dsp::Oddness& scales) {
    const auto& [pattern_db, level_db, abruptness_db, interval, max_pattern, max_level, max_abruptness, max_beat] =
        scales;
    return {{"pattern_db", pattern_db},         {"level_db", level_db},
            {"abruptness_db", abruptness_db},   {"interval", interval},
            {"max_pattern", max_pattern},       {"max_level", max_level},
            {"max_abruptness", max_abruptness}, {"max_beat", max_beat}};
}

Json json_of(const dsp::ChainLimits& limits) {
    const auto& [nearest, around, like_db, like_spread, strange, strange_spread, max_like, max_strange, max_level,
                 as_sudden, sudden, faint, max_faint, max_prior, company_s, like, convincing, unconvincing, on_beat,
                 max_off_beat, missed, pause, shortest_pause, widest_gap] = limits;
    return {{"nearest", nearest},
            {"around", around},
            {"like_db", like_db},
            {"like_spread", like_spread},
            {"strange", strange},
            {"strange_spread", strange_spread},
            {"max_like", max_like},
            {"max_strange", max_strange},
            {"max_level", max_level},
            {"as_sudden", as_sudden},
            {"faint", faint},
            {"max_faint", max_faint},
            {"on_beat", on_beat},
            {"max_off_beat", max_off_beat},
            {"missed", missed},
            {"pause", pause},
            {"shortest_pause", shortest_pause},
            {"widest_gap", widest_gap},
            {"sudden", sudden},
            {"like", like},
            {"convincing", convincing},
            {"unconvincing", unconvincing},
            {"max_prior", max_prior},
            {"company_s", company_s}};
}

Json json_of(const dsp::RunLimits& limits) {
    const auto& [oddness, taps, alike, together_s, chain, interval_s, evidence, for_each, for_steady, level_apart_db,
                 widest_level_apart_db, prominence, steady_taps, faintest, likeness, off_beat, to_closest, pause_s,
                 pause_factor] = limits;
    return {{"oddness", json_of(oddness)},
            {"min_taps", taps},
            {"alike", alike},
            {"together_s", together_s},
            {"chain", json_of(chain)},
            {"shortest_interval_s", interval_s},
            {"min_evidence", evidence},
            {"max_level_apart_db", level_apart_db},
            {"min_prominence", prominence},
            {"steady_taps", steady_taps},
            {"faintest", faintest},
            {"longest_pause_s", pause_s},
            {"pause_factor", pause_factor},
            {"min_for_each", for_each},
            {"min_for_steady", for_steady},
            {"widest_level_apart_db", widest_level_apart_db},
            {"min_likeness", likeness},
            {"nearest_off_beat", off_beat},
            {"nearest_to_closest", to_closest}};
}

Json json_of(const dsp::TakeSettings& settings) {
    const auto& [before_ms, after_ms, keep_sound_of, group] = settings;
    return {{"before_ms", before_ms}, {"after_ms", after_ms}, {"keep_sound_of", keep_sound_of}, {"group", group}};
}

Json json_of(const dsp::ImpactSettings& settings) {
    const auto& [threshold, clear, lead_ms, longest_ms, guard_ms, hit_ms, fade_ms, lowest, highest] = settings;
    return {{"threshold_db", threshold.db()},
            {"clear_of_noise_db", clear.db()},
            {"lead_ms", lead_ms},
            {"longest_ms", longest_ms},
            {"guard_ms", guard_ms},
            {"hit_definition_ms", hit_ms},
            {"fade_out_ms", fade_ms},
            {"lowest_band", lowest},
            {"highest_band", highest}};
}

Json json_of(const dsp::SpectraSettings& settings) {
    const auto& [lead_ms, decay_ms, fade_out_ms, lowest, highest, guard_ms, noise_part] = settings;
    return {{"lead_ms", lead_ms},       {"decay_ms", decay_ms},       {"fade_out_ms", fade_out_ms},
            {"lowest_hz", lowest.hz()}, {"highest_hz", highest.hz()}, {"guard_ms", guard_ms},
            {"noise_part", noise_part}};
}

Json json_of(const dsp::GapSearch& search) {
    const auto& [shortest_ms, longest_ms, step_ms] = search;
    return {{"shortest_ms", shortest_ms}, {"longest_ms", longest_ms}, {"step_ms", step_ms}};
}

Json json_of(const dsp::ShiftSettings& settings) {
    const auto& [spectra, search, align_ms, longest_ms, starts, worth_a_look, worth_of_excess, first_steps,
                 worth_going_on, max_steps, rounds, widest_scatter, lag_step_ms] = settings;
    return {{"spectra", json_of(spectra)},
            {"search", json_of(search)},
            {"align_ms", align_ms},
            {"longest_ms", longest_ms},
            {"starts", starts},
            {"worth_a_look", worth_a_look},
            {"worth_of_excess", worth_of_excess},
            {"first_steps", first_steps},
            {"worth_going_on", worth_going_on},
            {"max_steps", max_steps},
            {"rounds", rounds},
            {"widest_scatter", widest_scatter},
            {"lag_step_ms", lag_step_ms}};
}

Json json_of(const dsp::ContactSettings& settings) {
    const auto& [order, model, shortest_ms, longest_ms, short_gap_ms, short_decay_ms, long_decay_ms, gain, alike,
                 over_ringing, if_later, if_earlier, later, earlier, most_together, shift, explained, over_chance,
                 over_noise, shifting] = settings;
    const auto& [lead_ms, span_ms, guard_ms, noise_part] = model;
    return {{"order", order},
            {"model_lead_ms", lead_ms},
            {"model_span_ms", span_ms},
            {"model_guard_ms", guard_ms},
            {"model_noise_part", noise_part},
            {"shortest_ms", shortest_ms},
            {"longest_ms", longest_ms},
            {"short_gap_ms", short_gap_ms},
            {"short_decay_ms", short_decay_ms},
            {"long_decay_ms", long_decay_ms},
            {"min_gain", gain},
            {"alike_db", alike.db()},
            {"min_over_ringing", over_ringing},
            {"min_over_ringing_if_later", if_later},
            {"min_over_ringing_if_earlier", if_earlier},
            {"min_later_db", later.db()},
            {"min_earlier_db", earlier.db()},
            {"most_together", most_together},
            {"shift", json_of(shift)},
            {"min_explained", explained},
            {"min_over_noise", over_noise},
            {"min_over_chance", over_chance},
            {"min_shifting_db", shifting.db()}};
}

Json json_of(const dsp::LeadSettings& settings) {
    const auto& [correlation, longest_ms, before_ms, after_ms, min_agreement] = settings;
    const auto& [whitening, lowest, highest, upsampling] = correlation;
    return {{"whitening", whitening},   {"lowest_hz", lowest.hz()},      {"highest_hz", highest.hz()},
            {"upsampling", upsampling}, {"longest_ms", longest_ms},      {"before_ms", before_ms},
            {"after_ms", after_ms},     {"min_agreement", min_agreement}};
}

Json json_of(const dsp::BalanceSettings& settings) {
    const auto& [before_ms, after_ms] = settings;
    return {{"before_ms", before_ms}, {"after_ms", after_ms}};
}

Json json_of(const dsp::FitnessRules& rules) {
    const auto& [min_taps, good_taps, audible, min_snr_db, good_snr_db, min_band_hz, good_band_hz, min_wall_hz,
                 good_wall_hz, max_clipped_share, max_dropouts, gated_share, pumping_db] = rules;
    return {{"min_taps", min_taps},         {"good_taps", good_taps},
            {"audible_dbfs", audible.db()}, {"min_snr_db", min_snr_db},
            {"good_snr_db", good_snr_db},   {"min_band_hz", min_band_hz},
            {"good_band_hz", good_band_hz}, {"min_wall_hz", min_wall_hz},
            {"good_wall_hz", good_wall_hz}, {"max_clipped_share", max_clipped_share},
            {"max_dropouts", max_dropouts}, {"gated_share", gated_share},
            {"pumping_db", pumping_db}};
}

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

Json json_of(const dsp::ArrivalSettings& settings) {
    const auto& [window_ms, early_ms, quiet_ms, settling_ms, min_ratio] = settings;
    Json bands = Json::array();
    for (const auto& [from_hz, to_hz] : dsp::arrival_bands) {
        bands.push_back({from_hz, to_hz});
    }
    return {{"bands_hz", std::move(bands)}, {"shares", dsp::arrival_shares}, {"window_ms", window_ms},
            {"early_ms", early_ms},         {"quiet_ms", quiet_ms},          {"settling_ms", settling_ms},
            {"min_ratio", min_ratio}};
}

Json json_of(const compare::LandingDifferenceSettings& settings) {
    const auto& [seat, seats, usual_seats, seat_figure_db, seat_weight, residual_db, independence, relabellings, seed,
                 usual_error, usual_taps, taps_power] = settings;
    return {{"seat", json_of(seat)},
            {"seats", seats},
            {"usual_seats", usual_seats},
            {"seat_figure_db", seat_figure_db},
            {"seat_weight", seat_weight},
            {"residual_db", residual_db},
            {"independence", independence},
            {"relabellings", relabellings},
            {"seed", seed},
            {"usual_error", usual_error},
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
    const auto& [pooled, further_from_hz, drift_ms, usual, least, most, power, further_blur_ms, tolerance_ms, still_ms,
                 max_colour] = settings;
    return {{"pooled", json_of(pooled)},
            {"further_from_hz", further_from_hz},
            {"drift_ms", drift_ms},
            {"usual", usual},
            {"least", least},
            {"most", most},
            {"power", power},
            {"further_blur_ms", further_blur_ms},
            {"tolerance_ms", tolerance_ms},
            {"still_ms", still_ms},
            {"max_colour", max_colour}};
}

Json json_of(const compare::CompareSettings& settings) {
    const auto& [landing, difference, first_sound, min_taps, max_taps, tolerance, heard_depth, hidden_depth, widening,
                 min_alike_band, sigmas, steepness, confidence] = settings;
    return {{"landing", json_of(landing)},
            {"difference", json_of(difference)},
            {"min_taps", min_taps},
            {"max_taps_a_take", max_taps},
            {"landing_tolerance", tolerance},
            {"interval_sigmas", sigmas},
            {"likeness_steepness", steepness},
            {"shown_confidence", confidence},
            {"first_sound", json_of(first_sound)},
            {"heard_depth_db", heard_depth},
            {"hidden_depth_db", hidden_depth},
            {"hidden_widening", widening},
            {"min_alike_band_hz", min_alike_band}};
}

} // namespace

Json settings_json() {
    return {{"version", RETAP_VERSION},
            {"analysis_rate_hz", dsp::analysis_rate_hz},
            {"find", json_of(dsp::EventDetector::Settings{})},
            {"tap", json_of(dsp::TapLimits{})},
            {"run", json_of(dsp::RunLimits{})},
            {"take", json_of(dsp::TakeSettings{})},
            {"impact", json_of(dsp::ImpactSettings{})},
            {"arrival", json_of(dsp::ArrivalSettings{})},
            {"contacts", json_of(dsp::ContactSettings{})},
            {"lead", json_of(dsp::LeadSettings{})},
            {"balance", json_of(dsp::BalanceSettings{})},
            {"fitness", json_of(dsp::FitnessRules{})},
            {"compare", json_of(compare::CompareSettings{})}};
}

} // namespace retap::report
