#include "comparison_text.hpp"

#include "columns.hpp"
#include "report/measure_cells.hpp"
#include "report/wording.hpp"
#include "take_text.hpp"

#include <algorithm>
#include <cctype>

namespace retap::commands {
namespace {

using report::number;

std::string in_capitals(std::string_view word) {
    std::string out(word);
    std::ranges::transform(out, out.begin(), [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return out;
}

/// "(+1.04 to +1.51)": the unit stands beside the change already, and is said again only where it differs from that.
std::string interval_text(const report::MeasureCells& cells) {
    const auto unit_at = cells.difference.find("\u00a0");
    const std::string unit = unit_at == std::string::npos ? "" : cells.difference.substr(unit_at);
    const auto end_text = [&](std::string text) {
        if (text.ends_with(unit)) {
            text.erase(text.size() - unit.size());
        }
        return text;
    };
    return cells.low.empty() ? "" : "(" + end_text(cells.low) + " to " + end_text(cells.high) + ")";
}

std::string lower_first(std::string sentence) {
    if (!sentence.empty()) {
        sentence[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(sentence[0])));
    }
    return sentence;
}

std::string measures_text(const compare::Comparison& comparison, bool deciding) {
    using enum Columns::Align;
    Columns columns({left, right, right, right, left, right, left});
    columns.add({"", "before", "after", "change", "(interval)", "same within", deciding ? "finding" : ""});
    std::string sentences;
    std::string meanings;
    for (const compare::MeasureComparison& measure : comparison.measures) {
        if (measure.decides != deciding) {
            continue;
        }
        const report::MeasureCells cells = report::measure_cells(measure);
        columns.add({report::measure_label(measure.name), cells.before, cells.after,
                     cells.difference.empty() ? "\u2013" : cells.difference, interval_text(cells), cells.tolerance,
                     deciding ? std::string(compare::word(measure.finding)) : ""});
        sentences += measure.plain.empty() ? "" : "  - " + measure.plain + "\n";
        const std::string_view meaning = report::measure_meaning(measure.name);
        meanings += meaning.empty()
                        ? ""
                        : "  " + report::measure_label(measure.name) + ": " + lower_first(std::string(meaning)) + "\n";
    }
    return sentences.empty() ? "" : columns.text("  ") + meanings + sentences;
}

std::string likeness_text(const compare::Comparison& comparison) {
    const compare::Likeness& likeness = comparison.likeness;
    if (!tells(likeness)) {
        return "No likeness: it takes two takes that are fit for measuring.\n";
    }
    return "Likeness " + number(likeness.score, 0) + " of 100 (from " + number(likeness.low, 0) + " to " +
           number(likeness.high, 0) + ").\n";
}

std::string side_text(std::string_view side, const dsp::TakeAnalysis& take) {
    return std::string(side) + ": " + take.file + ", " + recording_text(take) + "\n  " + fitness_text(take);
}

} // namespace

std::string comparison_text(const compare::Comparison& comparison) {
    std::string out = in_capitals(compare::word(comparison.verdict)) + ": " + comparison.sentence + "\n";
    out += likeness_text(comparison);
    for (const std::string& reason : comparison.reasons) {
        out += "  - " + reason + "\n";
    }
    if (const auto table = measures_text(comparison, true); !table.empty()) {
        out += "\nMeasures that decide\n" + table;
    }
    if (const auto table = measures_text(comparison, false); !table.empty()) {
        out += "\nShown, but not deciding by themselves\n" + table;
    }
    out += "\n" + side_text("Before", comparison.before) + side_text("After", comparison.after);
    // The full list with its sources stands in the report and in the README.
    out += "\nKeep in mind: sound supports film holds and paper marks; it does not replace them and is no diagnosis.\n"
           "A moved pick-up or another effort can sound like a change, and a numb patient is a weak judge of high.\n"
           "Adjusting teeth cannot be undone; it is for the licensed clinician under local rules.\n";
    return out;
}

} // namespace retap::commands
