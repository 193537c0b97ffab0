// What Retap says of pairs whose truth is known, and whether its likeness means what it looks like.
#include "validate/chart.hpp"
#include "validate/section.hpp"
#include "validate/text_table.hpp"

#include <algorithm>
#include <string>

namespace retap::validate {

namespace {

using compare::Verdict;
constexpr std::array<Verdict, 3> all_verdicts{Verdict::alike, Verdict::unclear, Verdict::different};
constexpr std::array<std::string_view, 7> rows{"unchanged", "15", "25", "50", "100", "200", "low60"};

std::string row_heading(std::string_view condition) {
    if (condition == "unchanged") {
        return "unchanged";
    }
    return condition == "low60" ? "60 µm low" : std::string(condition) + " µm high";
}

TextTable shares_table(std::span<const PairResult> pairs, const Family& family) {
    TextTable table{.head = {"bite", "pairs", "alike", "unclear", "different"}};
    for (const std::string_view condition : rows) {
        std::vector<std::string> row{row_heading(condition)};
        row.push_back(fixed(verdict_share(pairs, family, condition, Verdict::alike).of, 0));
        for (const Verdict verdict : all_verdicts) {
            row.push_back(percent(verdict_share(pairs, family, condition, verdict)));
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

struct Aim {
    std::string_view condition;
    Verdict verdict;
    bool at_least;
    double share;
};
constexpr std::array<Aim, 5> aims{{{"unchanged", Verdict::different, false, 0.03},
                                   {"unchanged", Verdict::alike, true, 0.75},
                                   {"50", Verdict::alike, false, 0.05},
                                   {"100", Verdict::alike, false, 0.005},
                                   {"200", Verdict::alike, false, 0.005}}};

// The interval decides: a share that chance alone may have pushed over the line is neither.
std::string outcome(const Aim& aim, const Share& found) {
    if (found.of <= 0.0) {
        return "-";
    }
    const bool reached = aim.at_least ? found.value >= aim.share : found.value <= aim.share;
    const bool beyond_chance = aim.at_least ? found.high < aim.share : found.low > aim.share;
    return reached ? "reached" : beyond_chance ? "missed" : "missed, within sampling error";
}

std::string aim_text(const Aim& aim) {
    const int decimals = aim.share < 0.01 ? 1 : 0;
    return row_heading(aim.condition) + " called " + std::string(compare::word(aim.verdict)) +
           (aim.at_least ? ": at least " : ": at most ") + fixed(100.0 * aim.share, decimals) + " %";
}

TextTable aims_table(std::span<const PairResult> pairs, const Family& family) {
    TextTable table{.head = {"aim", "found", ""}};
    for (const Aim& aim : aims) {
        const Share found = verdict_share(pairs, family, aim.condition, aim.verdict);
        table.rows.push_back({aim_text(aim), percent(found), outcome(aim, found)});
    }
    return table;
}

NamedFile verdict_plot(std::span<const PairResult> pairs, const Family& family) {
    BarChart chart{.title = "Verdicts, " + name(family) + " family (simulated)",
                   .description = "Shares of the verdicts alike, unclear and different for each kind of bite; the same "
                                  "numbers stand in the table.",
                   .parts = {"alike", "unclear", "different"}};
    for (const std::string_view condition : rows) {
        chart.bars.push_back(row_heading(condition));
        std::vector<double> shares;
        shares.reserve(all_verdicts.size());
        for (const Verdict verdict : all_verdicts) {
            shares.push_back(verdict_share(pairs, family, condition, verdict).value);
        }
        chart.shares.push_back(std::move(shares));
    }
    return {.name = "verdicts-" + name(family) + ".svg", .content = draw(chart)};
}

std::string band_name(const Band& band) {
    return fixed(band.low, 0) + " to " + fixed(band.high, 0);
}

} // namespace

Section verdict_section(std::span<const PairResult> pairs) {
    Section section{.title = "Verdicts"};
    section.text =
        R"(Shares with their 95 % interval (Wilson 1927). A high bite called `alike` is false comfort and weighs most.
)";
    for (const Family& family : families_of(pairs)) {
        section.text += "\n### Family: " + name(family) + "\n\n" + markdown(shares_table(pairs, family)) + "\n" +
                        markdown(aims_table(pairs, family));
        section.plots.push_back(verdict_plot(pairs, family));
    }
    return section;
}

Section calibration_section(std::span<const PairResult> pairs) {
    Section section{.title = "What a likeness means"};
    section.text =
        R"(Of the pairs with a likeness in this band, how many were unchanged, in a mixture of which half is unchanged and half high,
the high ones in equal parts 15, 25, 50, 100 and 200 µm. In another mixture the shares are others.

)";
    TextTable table{.head = {"likeness"}};
    LineChart chart{
        .title = "Likeness against share unchanged (simulated)",
        .description = "Share of unchanged pairs by band of the likeness, for each family.",
        .x = {.caption = "likeness (middle of the band)",
              .low = 0.0,
              .high = 100.0,
              .ticks = report::linear_ticks(0.0, 100.0, 5)},
        .y = {.caption = "share unchanged", .low = 0.0, .high = 1.0, .ticks = report::linear_ticks(0.0, 1.0, 5)}};
    for (const Family& family : families_of(pairs)) {
        table.head.push_back(name(family) + ": pairs");
        table.head.emplace_back("share unchanged");
        Series series{.name = name(family), .main = true};
        const std::vector<Band> bands = calibration(pairs, family);
        table.rows.resize(bands.size());
        for (std::size_t b = 0; b < bands.size(); ++b) {
            const Band& band = bands[b];
            if (table.rows[b].empty()) {
                table.rows[b].push_back(band_name(band));
            }
            table.rows[b].push_back(std::to_string(band.pairs));
            table.rows[b].push_back(
                band.pairs > 0 ? with_interval(band.unchanged, band.unchanged_low, band.unchanged_high) : "-");
            if (band.pairs > 0) {
                series.points.push_back(
                    {0.5 * (band.low + band.high), band.unchanged, band.unchanged_low, band.unchanged_high});
            }
        }
        chart.series.push_back(std::move(series));
    }
    section.text += markdown(table);
    section.plots.push_back({.name = "calibration.svg", .content = draw(chart)});
    return section;
}

} // namespace retap::validate
