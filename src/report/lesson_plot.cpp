#include "report/lesson_plot.hpp"

#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>

namespace retap::report {

namespace {

constexpr double row_height = 30.0;
constexpr double shortest_axis_ms = 1.0;
constexpr double longest_axis_ms = 20.0;
constexpr int wanted_ticks = 6;
constexpr double disc = 4.0;

double axis_end_ms(const std::vector<NamedTruth>& rows) {
    double end = shortest_axis_ms;
    for (const NamedTruth& row : rows) {
        end = std::max(end, 1.1 * row.truth.spread_ms);
    }
    return std::min(end, longest_axis_ms);
}

} // namespace

std::string lesson_plot(const std::vector<NamedTruth>& rows) {
    if (rows.empty()) {
        return {};
    }
    const double area = row_height * static_cast<double>(rows.size());
    const Frame frame{.width = 720, .height = area + 54, .left = 150, .right = 600, .top = 8, .bottom = 8 + area};
    const double end = axis_end_ms(rows);
    const Scale x{0.0, end, frame.left + 8, frame.right};
    std::string told;
    for (const NamedTruth& row : rows) {
        told += row.name + ": over " + quantity(row.truth.spread_ms, "ms") + ". ";
    }
    Markup out;
    open_drawing(out, frame, "lesson", "When each pair of teeth met", told);
    horizontal_axis(out, frame, x, linear_ticks(0.0, end, wanted_ticks), "ms after the first contact");
    double y = frame.top + 0.5 * row_height;
    for (const NamedTruth& row : rows) {
        label(out, frame.left - 8, y + 4, "end", "axis", row.name);
        out.open("g", {{"class", "before"}});
        for (const bite::PairTiming& pair : row.truth.pairs) {
            mark(out, Side::before, x(std::min(pair.after_ms, end)), y, disc);
        }
        out.close("g");
        label(out, frame.right + 12, y + 4, "start", "tick", quantity(row.truth.spread_ms, "ms"));
        y += row_height;
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
