#include "report/json.hpp"

#include "dsp/impact.hpp"
#include "dsp/take.hpp"

namespace retap::report {
namespace {

Json impact_settings() {
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

} // namespace

Json settings_json() {
    return {{"version", RETAP_VERSION}, {"analysis_rate_hz", dsp::analysis_rate_hz}, {"impact", impact_settings()}};
}

} // namespace retap::report
