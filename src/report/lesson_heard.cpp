#include "report/lesson_heard.hpp"

#include "dsp/base/statistics.hpp"

#include <cstddef>
#include <functional>

namespace retap::report {

namespace {

using MeasureOf = std::function<std::optional<double>(const dsp::Tap&)>;

std::optional<double> middle(const dsp::TakeAnalysis& take, const MeasureOf& reading) {
    std::vector<double> values;
    for (const dsp::Tap& tap : take.taps) {
        if (const auto value = tap.usable ? reading(tap) : std::nullopt) {
            values.push_back(*value);
        }
    }
    return values.empty() ? std::nullopt : std::optional(dsp::median(values));
}

} // namespace

bool has_spread(const dsp::TakeAnalysis& take) {
    std::ptrdiff_t usable = 0;
    std::ptrdiff_t several = 0;
    for (const dsp::Tap& tap : take.taps) {
        usable += tap.usable ? 1 : 0;
        several += tap.usable && tap.contacts.size() > 1 ? 1 : 0;
    }
    return usable > 0 && 2 * several >= usable;
}

std::vector<HeardMeasure> heard_measures(const dsp::TakeAnalysis& take) {
    std::vector<HeardMeasure> measures;
    const auto add = [&](const char* name, const char* label, const char* unit, const MeasureOf& reading) {
        measures.push_back({.name = name, .label = label, .unit = unit, .middle = middle(take, reading)});
    };
    add("onset_spread", "contacts spread over", "ms", [](const dsp::Tap& tap) { return tap.onset_spread_ms; });
    if (!has_spread(take)) {
        measures.back().middle.reset();
    }
    add("peak", "peak", "dBFS", [](const dsp::Tap& tap) { return tap.peak_dbfs; });
    add("duration", "lasts", "ms", [](const dsp::Tap& tap) { return tap.duration_ms; });
    add("rise", "rises in", "ms", [](const dsp::Tap& tap) { return tap.rise_ms; });
    add("centroid", "centre of the spectrum", "Hz", [](const dsp::Tap& tap) { return tap.centroid_hz; });
    if (take.channels == 2) {
        add("left_lead", "left leads by", "ms", [](const dsp::Tap& tap) { return tap.left_lead_ms; });
        add("left_excess", "left louder by", "dB", [](const dsp::Tap& tap) { return tap.left_excess_db; });
    }
    return measures;
}

} // namespace retap::report
