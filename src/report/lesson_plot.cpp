#include "report/lesson_plot.hpp"

#include "dsp/base/statistics.hpp"
#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <optional>

namespace retap::report {

namespace {

constexpr double line_height = 30.0;
constexpr double shortest_axis_ms = 1.0;
constexpr int wanted_ticks = 6;
constexpr double disc = 4.0;

/// Middle of the usable taps; nothing without any.
std::optional<double> rise_heard_ms(const NamedTruth& row) {
    std::vector<double> rises;
    if (row.heard != nullptr) {
        for (const dsp::Tap& tap : row.heard->taps) {
            if (tap.usable) {
                rises.push_back(tap.rise_ms);
            }
        }
    }
    return rises.empty() ? std::nullopt : std::optional(dsp::median(rises));
}

/// Long enough for all that is written beside it: a bar or a disc never stops short of its number.
double axis_end_ms(const std::vector<NamedTruth>& rows) {
    double end = shortest_axis_ms;
    for (const NamedTruth& row : rows) {
        end = std::max({end, 1.1 * row.truth.spread_ms, 1.1 * rise_heard_ms(row).value_or(0.0)});
    }
    return end;
}

void words(Markup& out, const Frame& frame, double y, const std::string& name, const std::string& right) {
    label(out, frame.left - 8, y + 4, "end", "axis", name);
    label(out, frame.right + 12, y + 4, "start", "tick", right);
}

void draw_truth(Markup& out, const Frame& frame, const Scale& x, double y, const NamedTruth& row) {
    words(out, frame, y, row.heard == nullptr ? row.name : row.name + ", truth", quantity(row.truth.spread_ms, "ms"));
    out.open("g", {{"class", std::string(css(row.side))}});
    for (const bite::PairTiming& pair : row.truth.pairs) {
        mark(out, Side::before, x(std::min(pair.after_ms, x.to_value)), y, disc);
    }
    out.close("g");
}

void draw_heard(Markup& out, const Frame& frame, const Scale& x, double y, const NamedTruth& row) {
    const auto rise = rise_heard_ms(row);
    words(out, frame, y, row.name + ", heard", rise ? "rises in " + quantity(*rise, "ms") : "nothing");
    out.open("g", {{"class", std::string(css(row.side))}});
    if (rise) {
        out.empty("rect", {{"class", "rise-bar"},
                           {"x", coordinate(x(0.0))},
                           {"y", coordinate(y - disc)},
                           {"width", coordinate(x(*rise) - x(0.0))},
                           {"height", coordinate(2 * disc)}});
    }
    for (const dsp::Tap& tap : row.heard->taps) {
        const bool told_apart = tap.usable && tap.contacts.size() > 1; // one contact is the tap itself
        for (const dsp::Contact& contact : tap.contacts) {
            if (told_apart) {
                mark(out, Side::after, x(std::min(contact.at_ms, x.to_value)), y, disc);
            }
        }
    }
    out.close("g");
}

} // namespace

std::string lesson_plot(const std::vector<NamedTruth>& rows) {
    if (rows.empty()) {
        return {};
    }
    std::size_t lines = 0;
    std::string told;
    for (const NamedTruth& row : rows) {
        lines += row.heard == nullptr ? 1 : 2;
        told += row.name + ": over " + quantity(row.truth.spread_ms, "ms") + ". ";
    }
    const double area = line_height * static_cast<double>(lines);
    const Frame frame{.width = 720, .height = area + 54, .left = 150, .right = 590, .top = 8, .bottom = 8 + area};
    const Scale x{0.0, axis_end_ms(rows), frame.left + 8, frame.right};
    Markup out;
    open_drawing(out, frame, "lesson", "When each pair of teeth met", told);
    horizontal_axis(out, frame, x, linear_ticks(0.0, x.to_value, wanted_ticks), "ms after the first contact");
    double y = frame.top + 0.5 * line_height;
    for (const NamedTruth& row : rows) {
        draw_truth(out, frame, x, y, row);
        y += line_height;
        if (row.heard != nullptr) {
            draw_heard(out, frame, x, y, row);
            y += line_height;
        }
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
