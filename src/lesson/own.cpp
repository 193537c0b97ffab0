#include "lesson/own.hpp"

#include "dsp/base/statistics.hpp"
#include "report/lesson_heard.hpp"
#include "report/markup.hpp"
#include "report/wording.hpp"

#include <array>
#include <cassert>
#include <string_view>

namespace retap::lesson {
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
    if (measure.name == std::string_view("onset_spread") && !report::has_spread(take)) {
        return values; // contacts that were not told apart have no spread, not one of 0
    }
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

std::vector<std::string> own_words(std::size_t takes) {
    std::vector<std::string> words{
        "The first two columns are standard deviations: of one tap, and of the middle of a take. The third is what two "
        "takes of an unchanged bite stay within 19 times in 20.",
        "A single tap says little: the middle of several is steadier, which is why a baseline needs eight or so. What "
        "take to take adds to that is the pick-up, posture and effort. Only a change larger than the third column can "
        "be more than chance."};
    constexpr std::size_t enough = 5;
    if (takes < enough) {
        words.emplace_back("With so few takes these numbers are rough themselves; five or more are better.");
    }
    return words;
}

std::string own_section(std::span<const dsp::TakeAnalysis> takes) {
    assert(takes.size() >= 2);
    report::Markup out;
    out.open("section", {{"class", "lesson"}, {"aria-label", "How well these takes repeat"}});
    out.element("h2", "How well these takes repeat");
    out.open("div", {{"class", "lesson-table"},
                     {"tabindex", "0"},
                     {"role", "region"},
                     {"aria-label", "Repeatability, measure by measure"}});
    out.open("table", {{"class", "visit-table compact"}}).open("thead").open("tr");
    for (const char* name : {"Measure", "Tap to tap", "Take to take", "Two takes differ by up to"}) {
        out.element("th", {{"scope", "col"}}, name);
    }
    out.close("tr").close("thead").open("tbody");
    for (const OwnMeasure& measure : own_repeatability(takes)) {
        out.open("tr").element("th", {{"scope", "row"}}, measure.label);
        out.element("td", report::quantity(measure.between_taps.within_sd, measure.unit));
        out.element("td", report::quantity(measure.between_takes.within_sd, measure.unit));
        out.element("td", report::quantity(measure.between_takes.coefficient(), measure.unit)).close("tr");
    }
    out.close("tbody").close("table").close("div");
    for (const std::string& sentence : own_words(takes.size())) {
        out.element("p", sentence);
    }
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::lesson
