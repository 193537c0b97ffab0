#include "report/measures_table.hpp"

#include "report/markup.hpp"
#include "report/measure_cells.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <string_view>

namespace retap::report {

namespace {

using compare::MeasureComparison;

std::string_view sign(compare::Finding finding) {
    switch (finding) {
    case compare::Finding::within:
        return "=";
    case compare::Finding::beyond:
        return "\u2260";
    case compare::Finding::unclear:
        break;
    }
    return "?";
}

std::string_view words(compare::Finding finding) {
    switch (finding) {
    case compare::Finding::within:
        return "the same";
    case compare::Finding::beyond:
        return "changed";
    case compare::Finding::unclear:
        break;
    }
    return "unclear";
}

void head_cell(Markup& out, std::string_view text) {
    out.element("th", {{"scope", "col"}, {"role", "columnheader"}}, text);
}

/// A value cell; `name` is what the card layout writes before it.
void open_cell(Markup& out, std::string_view css_class, std::string_view name) {
    out.open("td", {{"role", "cell"}, {"class", std::string(css_class)}, {"data-name", std::string(name)}});
}

void side_cell(Markup& out, std::string_view name, const std::string& value, const std::string& scatter, bool heard) {
    open_cell(out, "value", name);
    out.element("span", {{"class", heard ? "main" : "quiet"}}, value);
    if (!scatter.empty()) {
        out.element("small", "\u00B1\u00A0" + scatter + " a tap");
    }
    out.close("td");
}

void difference_cell(Markup& out, const MeasureCells& cells) {
    open_cell(out, "value", "Difference");
    if (cells.difference.empty()) {
        out.element("span", {{"class", "quiet"}}, "\u2013");
    } else {
        out.element("span", {{"class", "main"}}, cells.difference);
        out.element("small", cells.low + " to " + cells.high);
        if (!cells.tolerance.empty()) {
            out.element("small", "same within " + cells.tolerance);
        }
    }
    out.close("td");
}

void row(Markup& out, const MeasureComparison& measure) {
    const MeasureCells cells = measure_cells(measure);
    out.open("tr", {{"role", "row"}});
    out.open("th", {{"scope", "row"}, {"role", "rowheader"}});
    out.element("span", {{"class", "main"}}, measure_label(measure.name));
    if (!measure.plain.empty()) {
        out.element("span", {{"class", "plain"}}, measure.plain);
    }
    if (const std::string_view meaning = measure_meaning(measure.name); !meaning.empty()) {
        out.element("small", meaning);
    }
    out.close("th");
    side_cell(out, "Before", cells.before, cells.before_scatter, measure.before.n > 0);
    side_cell(out, "After", cells.after, cells.after_scatter, measure.after.n > 0);
    difference_cell(out, cells);
    open_cell(out, "finding", "Finding");
    if (!measure.decides) {
        out.element("span", {{"class", "quiet"}}, "not judged");
    } else {
        out.element("span", {{"class", "sign"}, {"aria-hidden", "true"}}, sign(measure.finding));
        out.text(words(measure.finding));
    }
    out.close("td");
    out.close("tr");
}

void group(Markup& out, std::string_view title, const std::vector<MeasureComparison>& measures, bool decides) {
    const auto belongs = [decides](const MeasureComparison& m) { return m.decides == decides; };
    if (std::none_of(measures.begin(), measures.end(), belongs)) {
        return;
    }
    out.open("tbody", {{"role", "rowgroup"}, {"class", decides ? "deciding" : "shown"}});
    out.open("tr", {{"role", "row"}, {"class", "group"}});
    out.element("th", {{"scope", "rowgroup"}, {"role", "rowheader"}, {"colspan", "5"}}, title);
    out.close("tr");
    for (const MeasureComparison& measure : measures) {
        if (belongs(measure)) {
            row(out, measure);
        }
    }
    out.close("tbody");
}

} // namespace

std::string measures_table(const std::vector<MeasureComparison>& measures) {
    if (measures.empty()) {
        return {};
    }
    Markup out;
    out.open("table", {{"class", "measures"}, {"role", "table"}, {"aria-label", "Measures before and after"}});
    out.open("thead", {{"role", "rowgroup"}}).open("tr", {{"role", "row"}});
    for (const std::string_view title : {"Measure", "Before", "After", "Difference", "Finding"}) {
        head_cell(out, title);
    }
    out.close("tr").close("thead");
    group(out, "These decide", measures, true);
    group(out, "These do not decide by themselves", measures, false);
    out.close("table");
    return std::move(out).str();
}

} // namespace retap::report
