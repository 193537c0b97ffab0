#include "lesson_text.hpp"

#include "columns.hpp"
#include "lesson/bite_words.hpp"
#include "report/lesson_heard.hpp"
#include "report/wording.hpp"

#include <sstream>

namespace retap::commands {
namespace {

using enum Columns::Align;
using report::HeardMeasure;
using report::number;

std::string reading(const HeardMeasure& measure) {
    return measure.middle ? report::quantity(*measure.middle, measure.unit) : "not told";
}

std::string change(const HeardMeasure& from, const HeardMeasure& to) {
    return from.middle && to.middle
               ? report::signed_quantity(*to.middle - *from.middle, to.unit == "dBFS" ? "dB" : to.unit)
               : "";
}

} // namespace

std::string truth_text(const bite::TruthSummary& truth, int taps, chart::Numbering numbering) {
    Columns columns({left, right, right, right});
    columns.add({"upper tooth", "meets after ms", "at mm/s", "in taps"});
    for (const bite::PairTiming& pair : truth.pairs) {
        columns.add({lesson::tooth_of_pair(pair.pair, numbering), number(pair.after_ms, 2), number(pair.speed_mm_s, 0),
                     std::to_string(pair.taps) + " of " + std::to_string(taps)});
    }
    return columns.text("  ") + "  First to last contact that matters: " + number(truth.spread_ms, 2) + " ms\n";
}

std::string heard_text(const dsp::TakeAnalysis& heard) {
    Columns columns({left, right});
    for (const HeardMeasure& measure : report::heard_measures(heard)) {
        columns.add({measure.label, reading(measure)});
    }
    return columns.text("  ");
}

std::string heard_text(const dsp::TakeAnalysis& balanced, const dsp::TakeAnalysis& heard) {
    const auto before = report::heard_measures(balanced);
    const auto now = report::heard_measures(heard);
    Columns columns({left, right, right, right});
    columns.add({"measure", "balanced", "this bite", "change"});
    for (std::size_t i = 0; i < now.size(); ++i) {
        columns.add({now[i].label, reading(before[i]), reading(now[i]), change(before[i], now[i])});
    }
    return columns.text("  ");
}

std::string wrapped(const std::string& words, const std::string& indent) {
    constexpr std::size_t widest = 80;
    std::istringstream stream(words);
    std::string word;
    std::string line = indent;
    std::string out;
    while (stream >> word) {
        if (line.size() > indent.size() && width_of(line) + 1 + width_of(word) > widest) {
            out += line + "\n";
            line = indent;
        }
        line += (line.size() > indent.size() ? " " : "") + word;
    }
    return out + line + "\n";
}

} // namespace retap::commands
