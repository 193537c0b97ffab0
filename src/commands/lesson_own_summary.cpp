#include "lesson_own_summary.hpp"

#include "dsp/robust.hpp"

#include <array>

namespace retap::commands {
namespace {

struct Measure {
    const char* name;
    const char* label;
    const char* unit;
    double (*of)(const dsp::Tap&);
};

constexpr std::array<Measure, 6> wanted{{
    {"onset_spread", "contacts spread over", "ms", [](const dsp::Tap& tap) { return tap.onset_spread_ms; }},
    {"rise", "rises in", "ms", [](const dsp::Tap& tap) { return tap.rise_ms; }},
    {"duration", "lasts", "ms", [](const dsp::Tap& tap) { return tap.duration_ms; }},
    {"peak", "peak", "dB", [](const dsp::Tap& tap) { return tap.peak_dbfs; }},
    {"energy", "energy", "dB", [](const dsp::Tap& tap) { return tap.energy_db; }},
    {"centroid", "centre of the spectrum", "Hz", [](const dsp::Tap& tap) { return tap.centroid_hz; }},
}};

std::vector<double> values_of(const dsp::TakeAnalysis& take, const Measure& measure) {
    std::vector<double> values;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable) {
            values.push_back(measure.of(tap));
        }
    }
    return values;
}

} // namespace

std::vector<OwnMeasure> own_repeatability(std::span<const dsp::TakeAnalysis> takes) {
    std::vector<OwnMeasure> measures;
    for (const Measure& measure : wanted) {
        std::vector<std::vector<double>> taps;
        std::vector<double> middles;
        for (const dsp::TakeAnalysis& take : takes) {
            taps.push_back(values_of(take, measure));
            if (!taps.back().empty()) {
                middles.push_back(dsp::median(taps.back()));
            }
        }
        if (middles.size() == takes.size()) {
            measures.push_back({.name = measure.name,
                                .label = measure.label,
                                .unit = measure.unit,
                                .between_taps = compare::repeatability(taps),
                                .between_takes = compare::repeatability({&middles, 1})});
        }
    }
    return measures;
}

} // namespace retap::commands
