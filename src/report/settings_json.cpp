#include "dsp/correlate.hpp"
#include "dsp/event_detector.hpp"
#include "dsp/fitness.hpp"
#include "dsp/impact.hpp"
#include "dsp/level_balance.hpp"
#include "dsp/take.hpp"
#include "dsp/take_analyser.hpp"
#include "dsp/tap_rules.hpp"
#include "dsp/tap_run.hpp"
#include "report/json.hpp"

namespace retap::report {
namespace {

Json finder_json() {
    const dsp::EventDetector::Settings s;
    return {{"threshold", s.threshold},
            {"lag_s", s.lag_s},
            {"joined_s", s.joined_s},
            {"apart_s", s.apart_s},
            {"floor_window_s", s.floor_window_s}};
}

Json tap_limits_json() {
    const dsp::TapLimits s;
    return {{"least_over_noise_db", s.least_over_noise.db()},
            {"longest_rise_ms", s.longest_rise_ms},
            {"longest_fall_ms", s.longest_fall_ms},
            {"least_jump_db", s.least_jump.db()},
            {"most_before_db", s.most_before.db()},
            {"most_after_db", s.most_after.db()},
            {"most_busy", s.most_busy},
            {"most_below_db", s.most_below.db()},
            {"least_octaves", s.least_octaves}};
}

Json run_limits_json() {
    const dsp::RunLimits s;
    return {{"least_taps", s.least_taps},           {"like_db", s.like_db},
            {"scatter_factor", s.scatter_factor},   {"most_level_apart_db", s.most_level_apart.db()},
            {"longest_pause_s", s.longest_pause_s}, {"pause_factor", s.pause_factor}};
}

Json take_settings_json() {
    const dsp::TakeSettings s;
    return {
        {"before_ms", s.before_ms}, {"after_ms", s.after_ms}, {"keep_sound_of", s.keep_sound_of}, {"group", s.group}};
}

Json impact_json() {
    const dsp::ImpactSettings s;
    return {{"threshold_db", s.threshold.db()},
            {"clear_of_noise_db", s.clear_of_noise.db()},
            {"lead_ms", s.lead_ms},
            {"longest_ms", s.longest_ms},
            {"guard_ms", s.guard_ms},
            {"hit_definition_ms", s.hit_definition_ms},
            {"fade_out_ms", s.fade_out_ms},
            {"lowest_band", s.lowest_band},
            {"highest_band", s.highest_band}};
}

Json sides_json() {
    const dsp::LeadSettings lead;
    const dsp::BalanceSettings balance;
    return {{"whitening", lead.correlation.whitening},
            {"lowest_hz", lead.correlation.lowest.hz()},
            {"highest_hz", lead.correlation.highest.hz()},
            {"upsampling", lead.correlation.upsampling},
            {"longest_ms", lead.longest_ms},
            {"before_ms", lead.before_ms},
            {"after_ms", lead.after_ms},
            {"least_agreement", lead.least_agreement},
            {"balance_before_ms", balance.before_ms},
            {"balance_after_ms", balance.after_ms}};
}

Json fitness_rules_json() {
    const dsp::FitnessRules s;
    return {{"least_taps", s.least_taps},       {"good_taps", s.good_taps},
            {"audible_dbfs", s.audible.db()},   {"least_snr_db", s.least_snr_db},
            {"good_snr_db", s.good_snr_db},     {"least_band_hz", s.least_band_hz},
            {"good_band_hz", s.good_band_hz},   {"least_wall_hz", s.least_wall_hz},
            {"good_wall_hz", s.good_wall_hz},   {"most_clipped_share", s.most_clipped_share},
            {"most_dropouts", s.most_dropouts}, {"gated_share", s.gated_share},
            {"pumping_db", s.pumping_db}};
}

} // namespace

Json settings_json() {
    return {{"version", RETAP_VERSION},       {"analysis_rate_hz", dsp::analysis_rate_hz},
            {"find", finder_json()},          {"tap", tap_limits_json()},
            {"run", run_limits_json()},       {"take", take_settings_json()},
            {"impact", impact_json()},        {"sides", sides_json()},
            {"fitness", fitness_rules_json()}};
}

} // namespace retap::report
