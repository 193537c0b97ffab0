#include "cohort_text.hpp"

#include "report/html_page.hpp"
#include "report/markup.hpp"
#include "utf8.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace retap::commands {
namespace {

using visit::CohortRow;
using visit::Share;

struct ShareColumn {
    const char* name; ///< in the table and in JSON
    const char* says; ///< on the page
    const char* what_counts;
    Share CohortRow::*share;
};

constexpr std::array<ShareColumn, 4> share_columns = {{
    {"complete", "Checks complete",
     "visits with film holds and a take before, and both and a comparison at the last look", &CohortRow::complete},
    {"holds_kept", "Holds kept",
     "tooth pairs that held film before and were tested at the last look: those that still hold",
     &CohortRow::holds_kept},
    {"as_before", "Sound as before", "visits with a comparison: those that sounded alike at the last look",
     &CohortRow::as_before},
    {"rechecks_kept", "Rechecks kept", "visits that were to be seen again: those that another visit continues",
     &CohortRow::rechecks_kept},
}};

std::string whole_percent(double share) {
    return std::to_string(static_cast<int>(std::lround(100 * share))) + " %";
}

bool is_small(const Share& share) {
    return share.of < visit::small_number;
}

std::string share_text(const Share& share) {
    if (share.of == 0) {
        return "-";
    }
    const auto [low, high] = *share.interval();
    return std::to_string(share.yes) + " of " + std::to_string(share.of) + (is_small(share) ? "*" : "") + " (" +
           std::to_string(static_cast<int>(std::lround(100 * low))) + " to " + whole_percent(high) + ")";
}

std::string one_decimal(double value) {
    std::array<char, 32> text{};
    (void)std::snprintf(text.data(), text.size(), "%.1f", value);
    return text.data();
}

/// Columns as wide as what stands in them.
std::string aligned(const std::vector<std::vector<std::string>>& lines) {
    std::vector<std::size_t> widths;
    for (const auto& line : lines) {
        widths.resize(std::max(widths.size(), line.size()));
        for (std::size_t i = 0; i < line.size(); ++i) {
            widths[i] = std::max(widths[i], line[i].size());
        }
    }
    std::string out;
    for (const auto& line : lines) {
        for (std::size_t i = 0; i < line.size(); ++i) {
            out += line[i] + (i + 1 < line.size() ? std::string(widths[i] - line[i].size() + 2, ' ') : "\n");
        }
    }
    return out;
}

/// As batch's tables have it: what begins as a formula gets an apostrophe in front (common practice).
std::string csv_cell(const std::string& given) {
    const bool formula = !given.empty() && std::string_view("=+-@\t\r").find(given[0]) != std::string_view::npos;
    const std::string text = (formula ? "'" : "") + as_utf8(given);
    std::string out = "\"";
    for (const char c : text) {
        out += c == '"' ? "\"\"" : std::string(1, c);
    }
    return text.find_first_of(",\"\r\n") == std::string::npos ? text : out + "\"";
}

/// A line from 0 to 100 % with the share as a point and its interval; hollow when it rests on few.
std::string share_plot(const Share& share) {
    constexpr double width = 160;
    const auto at = [](double value) { return report::Json(std::round(10 * (4 + value * (width - 8))) / 10).dump(); };
    report::Markup svg;
    svg.open("svg", {{"width", "160"},
                     {"height", "18"},
                     {"viewBox", "0 0 160 18"},
                     {"role", "img"},
                     {"aria-label", share_text(share)}});
    svg.empty("line", {{"x1", at(0)}, {"x2", at(1)}, {"y1", "16"}, {"y2", "16"}, {"stroke", "#999"}});
    if (const auto interval = share.interval()) {
        svg.empty("line", {{"x1", at(interval->first)},
                           {"x2", at(interval->second)},
                           {"y1", "9"},
                           {"y2", "9"},
                           {"stroke", "#333"},
                           {"stroke-width", "2"}});
        svg.empty("circle", {{"cx", at(static_cast<double>(share.yes) / share.of)},
                             {"cy", "9"},
                             {"r", "4"},
                             {"stroke", "#333"},
                             {"fill", is_small(share) ? "#fff" : "#333"}});
    }
    svg.close("svg");
    return svg.str();
}

} // namespace

std::string cohort_table(const std::vector<CohortRow>& rows) {
    if (rows.empty()) {
        return "No visits.\n";
    }
    std::vector<std::vector<std::string>> lines = {{"person", "term", "visits"}};
    for (const ShareColumn& column : share_columns) {
        lines[0].emplace_back(column.name);
    }
    lines[0].insert(lines[0].end(), {"different", "unclear", "adjustments"});
    for (const CohortRow& row : rows) {
        auto& line = lines.emplace_back(std::vector<std::string>{row.label, row.term, std::to_string(row.visits)});
        for (const ShareColumn& column : share_columns) {
            line.push_back(share_text(row.*column.share));
        }
        line.insert(line.end(), {std::to_string(row.different), std::to_string(row.unclear),
                                 row.adjustments ? one_decimal(*row.adjustments) : "-"});
    }
    return aligned(lines) + "* fewer than " + std::to_string(visit::small_number) +
           ": says next to nothing about a person. In brackets: where the true share lies, 95 %.\n";
}

std::string cohort_csv(const std::vector<CohortRow>& rows) {
    std::string out = "person,term,visits";
    for (const ShareColumn& column : share_columns) {
        for (const char* part : {"", "_of", "_low", "_high"}) {
            out += std::string(",") + column.name + part;
        }
    }
    out += ",different,unclear,adjustments\n";
    const auto digits = [](double value) { return report::significant(value).dump(); };
    for (const CohortRow& row : rows) {
        out += csv_cell(row.label) + "," + row.term + "," + std::to_string(row.visits);
        for (const ShareColumn& column : share_columns) {
            const Share& share = row.*column.share;
            const auto interval = share.interval();
            out += "," + std::to_string(share.yes) + "," + std::to_string(share.of) + "," +
                   (interval ? digits(interval->first) + "," + digits(interval->second) : ",");
        }
        out += "," + std::to_string(row.different) + "," + std::to_string(row.unclear) + "," +
               (row.adjustments ? digits(*row.adjustments) : "") + "\n";
    }
    return out;
}

report::Json cohort_json(const std::vector<CohortRow>& rows) {
    report::Json list = report::Json::array();
    for (const CohortRow& row : rows) {
        report::Json one = {{"person", row.label}, {"term", row.term}, {"visits", row.visits}};
        for (const ShareColumn& column : share_columns) {
            const Share& share = row.*column.share;
            const auto interval = share.interval();
            one[column.name] = {{"yes", share.yes},
                                {"of", share.of},
                                {"low", interval ? report::significant(interval->first) : report::Json()},
                                {"high", interval ? report::significant(interval->second) : report::Json()},
                                {"small", is_small(share)}};
        }
        one["different"] = row.different;
        one["unclear"] = row.unclear;
        one["adjustments"] = row.adjustments ? report::significant(*row.adjustments) : report::Json();
        list.push_back(std::move(one));
    }
    return {{"format", "retap.cohort/1"}, {"small_below", visit::small_number}, {"rows", std::move(list)}};
}

std::string cohort_html(const std::vector<CohortRow>& rows, const std::string& when) {
    report::Markup page;
    page.element("p",
                 "Each line is one person in one half of a year. Points are shares, lines are where the true share "
                 "lies (95 %), from 0 at the left to all at the right. Hollow points rest on fewer than " +
                     std::to_string(visit::small_number) +
                     " and say next to nothing about a person. The order is that of the labels and no order of "
                     "merit: who treats harder cases has other figures.");
    for (const ShareColumn& column : share_columns) {
        page.open("section")
            .element("h2", column.says)
            .element("p", std::string("Counted: ") + column.what_counts + ".");
        page.open("table").open("thead").open("tr");
        for (const char* head : {"person", "term", "share", "so many"}) {
            page.element("th", head);
        }
        page.close("tr").close("thead").open("tbody");
        for (const CohortRow& row : rows) {
            const Share& share = row.*column.share;
            page.open("tr").element("td", row.label).element("td", row.term);
            page.open("td").add(share_plot(share)).close("td").element("td", share_text(share)).close("tr");
        }
        page.close("tbody").close("table").close("section");
    }
    page.open("section").element("h2", "Verdicts and adjustments");
    page.element("p", "Adjustments: the middle number of looks after the first until the sound was alike.");
    page.open("table").open("thead").open("tr");
    for (const char* head : {"person", "term", "visits", "alike", "different", "unclear", "adjustments"}) {
        page.element("th", head);
    }
    page.close("tr").close("thead").open("tbody");
    for (const CohortRow& row : rows) {
        page.open("tr").element("td", row.label).element("td", row.term);
        for (const int count : {row.visits, row.as_before.yes, row.different, row.unclear}) {
            page.element("td", std::to_string(count));
        }
        page.element("td", row.adjustments ? one_decimal(*row.adjustments) : "-").close("tr");
    }
    page.close("tbody").close("table").close("section");
    return report::html_page({"Checks of a cohort", when, "Retap " RETAP_VERSION}, page.str());
}

} // namespace retap::commands
