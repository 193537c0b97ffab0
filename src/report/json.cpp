#include "report/json.hpp"

#include "compare/compare_takes.hpp"
#include "report/reason_words.hpp"

#include <cmath>
#include <optional>
#include <vector>

namespace retap::report {
namespace {

constexpr int digits_s = 6;  // microseconds
constexpr int digits_ms = 4; // a tenth of a microsecond: a two-hundredth of a sample
constexpr int digits_db = 2;
constexpr int digits_hz = 1;
constexpr int digits_score = 2;
constexpr int digits_weight = 3; // nats

Json optional_number(const std::optional<double>& value, int decimals) {
    return value ? rounded(*value, decimals) : Json(nullptr);
}

Json numbers(const std::vector<double>& values, int decimals) {
    Json list = Json::array();
    for (const double value : values) {
        list.push_back(rounded(value, decimals));
    }
    return list;
}

Json summary_json(const dsp::Summary& summary) {
    return {{"middle", significant(summary.middle)}, {"scatter", significant(summary.scatter)}, {"n", summary.n}};
}

Json fitness_json(const dsp::Fitness& fitness) {
    return {{"usable", fitness.usable},
            {"reasons", fitness.reasons},
            {"noise_dbfs", rounded(fitness.noise_dbfs, digits_db)},
            {"snr_db", rounded(fitness.snr_db, digits_db)},
            {"clipped_samples", fitness.clipped_samples},
            {"dropouts", fitness.dropouts},
            {"bandwidth_hz", rounded(fitness.bandwidth_hz, digits_hz)},
            {"cautions", fitness.cautions}};
}

Json profile_json(const std::vector<dsp::ArrivalTimes>& profile) {
    Json bands = Json::array();
    for (const dsp::ArrivalTimes& band : profile) {
        bands.push_back(band ? numbers({band->begin(), band->end()}, digits_ms) : Json(nullptr));
    }
    return bands;
}

Json tap_json(const dsp::Tap& tap) {
    const auto measured = [&tap](double value, int digits) {
        return tap.measured ? rounded(value, digits) : Json(nullptr);
    };
    Json contacts = Json::array();
    for (const dsp::Contact& contact : tap.contacts) {
        contacts.push_back({{"at_ms", rounded(contact.at_ms, digits_ms)}, {"strength", rounded(contact.strength, 4)}});
    }
    return {{"onset_s", rounded(tap.onset_s, digits_s)},
            {"usable", tap.usable},
            {"reasons", words(tap.reasons)},
            {"contacts", std::move(contacts)},
            {"onset_spread_ms", tap.contacts.empty() ? Json(nullptr) : rounded(tap.onset_spread_ms, digits_ms)},
            {"rise_ms", measured(tap.rise_ms, digits_ms)},
            {"duration_ms", measured(tap.duration_ms, digits_ms)},
            {"peak_dbfs", rounded(tap.peak_dbfs, digits_db)},
            {"energy_db", measured(tap.energy_db, digits_db)},
            {"centroid_hz", measured(tap.centroid_hz, digits_hz)},
            {"bands_db", numbers(tap.bands_db, digits_db)},
            {"left_lead_ms", optional_number(tap.left_lead_ms, digits_ms)},
            {"left_excess_db", optional_number(tap.left_excess_db, digits_db)},
            {"decay_ms", optional_number(tap.decay_ms, digits_ms)},
            {"arrival_ms", profile_json(tap.arrival_ms)},
            {"resolution_ms", tap.contacts.empty() ? Json(nullptr) : rounded(tap.resolution_ms, digits_ms)}};
}

Json signature_json(const dsp::TakeAnalysis& take) {
    Json signature = Json::object();
    for (const compare::SignatureEntry& entry : compare::signature_of(take)) {
        Json value = summary_json(entry.summary);
        value["unit"] = entry.unit;
        signature[entry.name] = std::move(value);
    }
    return signature;
}

Json measure_json(const compare::MeasureComparison& measure) {
    return {{"name", measure.name},
            {"unit", measure.unit},
            {"before", summary_json(measure.before)},
            {"after", summary_json(measure.after)},
            {"difference", significant(measure.difference)},
            {"low", significant(measure.low)},
            {"high", significant(measure.high)},
            {"tolerance", significant(measure.tolerance)},
            {"finding", compare::word(measure.finding)},
            {"plain", measure.plain},
            {"decides", measure.decides}};
}

} // namespace

Json rounded(double value, int decimals) {
    if (!std::isfinite(value)) {
        return nullptr;
    }
    const double scale = std::pow(10.0, decimals);
    return std::round(value * scale) / scale + 0.0; // + 0.0 turns -0 into 0
}

Json significant(double value) {
    if (value == 0.0 || !std::isfinite(value)) {
        return rounded(value, 0);
    }
    constexpr int digits = 6;
    const int decimals = digits - 1 - static_cast<int>(std::floor(std::log10(std::abs(value))));
    return rounded(value, decimals);
}

Json take_json(const dsp::TakeAnalysis& take) {
    Json json = take_without_settings_json(take);
    json["settings"] = settings_json(take);
    return json;
}

Json take_without_settings_json(const dsp::TakeAnalysis& take) {
    Json taps = Json::array();
    for (const dsp::Tap& tap : take.taps) {
        taps.push_back(tap_json(tap));
    }
    Json turned_down = Json::array();
    for (const dsp::TurnedDown& event : take.turned_down) {
        turned_down.push_back({{"at_s", rounded(event.at_s, digits_s)}, {"reason", word(event.reason)}});
    }
    return {{"format", "retap.take/1"},
            {"file", take.file},
            {"sample_rate_hz", significant(take.sample_rate_hz)},
            {"channels", take.channels},
            {"duration_s", rounded(take.duration_s, digits_s)},
            {"fitness", fitness_json(take.fitness)},
            {"taps", std::move(taps)},
            {"turned_down", std::move(turned_down)},
            {"signature", signature_json(take)},
            {"band_centres_hz", numbers(take.band_centres_hz, digits_hz)}};
}

namespace {

Json evidence_json(const compare::Comparison& comparison) {
    Json kinds = Json::array();
    for (const compare::Evidence& kind : comparison.evidence) {
        kinds.push_back({{"kind", compare::word(kind.kind)},
                         {"weight", rounded(kind.weight, digits_weight)},
                         {"spoke", kind.spoke}});
    }
    return {{"kinds", std::move(kinds)},
            {"sum", rounded(comparison.sum.value, digits_weight)},
            {"low", rounded(comparison.sum.low, digits_weight)},
            {"high", rounded(comparison.sum.high, digits_weight)}};
}

} // namespace

Json comparison_json(const compare::Comparison& comparison) {
    Json measures = Json::array();
    for (const compare::MeasureComparison& measure : comparison.measures) {
        measures.push_back(measure_json(measure));
    }
    const compare::Likeness& likeness = comparison.likeness;
    return {{"format", "retap.comparison/1"},
            {"likeness",
             {{"score", rounded(likeness.score, digits_score)},
              {"low", rounded(likeness.low, digits_score)},
              {"high", rounded(likeness.high, digits_score)}}},
            {"verdict", compare::word(comparison.verdict)},
            {"sentence", comparison.sentence},
            {"reasons", comparison.reasons},
            {"evidence", evidence_json(comparison)},
            {"measures", std::move(measures)},
            {"before", take_without_settings_json(comparison.before)},
            {"after", take_without_settings_json(comparison.after)},
            {"settings", settings_json(comparison)}};
}

std::string json_text(const Json& json, JsonLayout layout) {
    return json.dump(layout == JsonLayout::indented ? 2 : -1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace retap::report
