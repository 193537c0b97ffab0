// How well each measure tells changed from unchanged.
#include "validate/chart.hpp"
#include "validate/pair_numbers.hpp"
#include "validate/section.hpp"
#include "validate/text_table.hpp"

#include <string>

namespace retap::validate {

namespace {

constexpr std::array<std::string_view, 6> columns{"15", "25", "50", "100", "200", "low60"};
constexpr std::size_t height_count = 5;

// What is aimed for, per family, in the order of the columns; published with the results so that a miss shows.
constexpr double no_aim = -1.0;
constexpr std::array<double, 6> modal_aims{0.75, 0.90, 0.99, 1.00, 1.00, no_aim};
constexpr std::array<double, 6> strike_aims{0.75, 0.88, 0.98, 0.99, 0.99, no_aim};
constexpr std::size_t plotted = measure_count - 1; // a chart has room for eight lines

std::string column_heading(std::string_view column) {
    return column == "low60" ? "60 µm low" : std::string(column) + " µm";
}

TextTable area_table(std::span<const PairResult> pairs, const Family& family) {
    TextTable table{.head = {"measure"}};
    for (const std::string_view column : columns) {
        table.head.push_back(column_heading(column));
    }
    for (std::size_t measure = 0; measure < measure_count; ++measure) {
        std::vector<std::string> row{measure == 0 ? "**Retap**" : std::string(measure_name(measure))};
        for (const std::string_view column : columns) {
            const Area a = area(pairs, family, column, measure);
            row.push_back(with_interval(a.value, a.low, a.high));
        }
        table.rows.push_back(std::move(row));
    }
    std::vector<std::string> aims{"what we aim for"};
    for (const double aim : family.sound == Sound::modal ? modal_aims : strike_aims) {
        aims.push_back(aim == no_aim ? "" : fixed(aim, 2));
    }
    table.rows.push_back(std::move(aims));
    return table;
}

NamedFile area_plot(std::span<const PairResult> pairs, const Family& family) {
    LineChart chart{
        .title = "Telling changed from unchanged, " + name(family) + " family (simulated)",
        .description = "Area under the ROC curve by height of the spot for each measure; the same numbers "
                       "stand in the table.",
        .x = {.caption = "height of the spot (µm)",
              .low = 13.0,
              .high = 230.0,
              .ticks = {{15, "15"}, {25, "25"}, {50, "50"}, {100, "100"}, {200, "200"}},
              .kind = report::Scale::Kind::logarithmic},
        .y = {.caption = "area under ROC", .low = 0.4, .high = 1.0, .ticks = report::linear_ticks(0.4, 1.0, 6)}};
    for (std::size_t measure = 0; measure < plotted; ++measure) {
        Series series{.name = std::string(measure_name(measure)), .main = measure == 0};
        for (const std::string_view column : std::span(columns).first(height_count)) {
            const Area a = area(pairs, family, column, measure);
            series.points.push_back({std::stod(std::string(column)), a.value, a.low, a.high});
        }
        chart.series.push_back(std::move(series));
    }
    return {.name = "area-" + name(family) + ".svg", .content = draw(chart)};
}

} // namespace

Section table_section(std::span<const PairResult> pairs) {
    Section section{.title = "Changed or unchanged"};
    section.text =
        R"(Area under the ROC curve with its 95 % interval (Hanley and McNeil 1982; too narrow near 1): how often a changed pair
stands out above an unchanged one. Retap: 100 minus the likeness. The rivals are computed in the same run, on the taps that
Retap found in the same takes. The last two measures listen to nothing: they are handed the true contact times, the last one
also which teeth meet, which sound does not say.
)";
    for (const Family& family : families_of(pairs)) {
        section.text += "\n### Family: " + name(family) + "\n\n" + markdown(area_table(pairs, family));
        section.plots.push_back(area_plot(pairs, family));
    }
    section.numbers.push_back({.name = "pairs.csv", .content = pairs_csv(pairs)});
    return section;
}

} // namespace retap::validate
