#include "compare/compare_takes.hpp"
#include "dsp/base/statistics.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace retap::compare {
namespace {

struct Measure {
    const char* name;
    const char* unit;
    std::function<std::optional<double>(const dsp::Tap&)> of;
};

const std::vector<Measure>& all_measures() {
    using dsp::Tap;
    using Value = std::optional<double>;
    static const std::vector<Measure> measures{
        {"onset_spread", "ms", [](const Tap& t) { return t.contacts.empty() ? Value() : Value(t.onset_spread_ms); }},
        {"contacts", "",
         [](const Tap& t) { return t.contacts.empty() ? Value() : Value(static_cast<double>(t.contacts.size())); }},
        {"rise", "ms", [](const Tap& t) { return Value(t.rise_ms); }},
        {"duration", "ms", [](const Tap& t) { return Value(t.duration_ms); }},
        {"decay", "ms", [](const Tap& t) { return t.decay_ms; }},
        {"peak", "dBFS", [](const Tap& t) { return Value(t.peak_dbfs); }},
        {"energy", "dB", [](const Tap& t) { return Value(t.energy_db); }},
        {"centroid", "Hz", [](const Tap& t) { return Value(t.centroid_hz); }},
        {"left_lead", "ms", [](const Tap& t) { return t.left_lead_ms; }},
        {"left_excess", "dB", [](const Tap& t) { return t.left_excess_db; }},
    };
    return measures;
}

} // namespace

std::vector<TapValues> values_by_measure(const dsp::TakeAnalysis& take) {
    std::vector<TapValues> all;
    for (const Measure& measure : all_measures()) {
        TapValues values{.name = measure.name, .unit = measure.unit, .values = {}};
        for (const dsp::Tap& tap : take.taps) {
            const std::optional<double> value = tap.usable ? measure.of(tap) : std::nullopt;
            if (value) {
                values.values.push_back(*value);
            }
        }
        all.push_back(std::move(values));
    }
    return all;
}

std::vector<SignatureEntry> signature_of(const dsp::TakeAnalysis& take) {
    std::vector<SignatureEntry> signature;
    for (const TapValues& measure : values_by_measure(take)) {
        if (!measure.values.empty()) {
            signature.push_back(
                {.name = measure.name, .unit = measure.unit, .summary = dsp::summarise(measure.values)});
        }
    }
    return signature;
}

} // namespace retap::compare
