#include "validate/chart.hpp"

#include "report/markup.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <string_view>

namespace retap::validate {

namespace {

using report::coordinate;

// Line colours and bar fills keep apart for the colour-blind; dashes and labels carry the rest.
constexpr std::string_view style =
    "svg{font:13px sans-serif;background:#fff}text{fill:#222}.title{font-weight:bold;font-size:15px}"
    ".axis,.key{fill:#333}.tick{fill:#555;font-size:12px}.grid{stroke:#ddd;stroke-width:1}"
    "path{fill:none;stroke-width:1.6}.main{stroke-width:3.5}.bar{stroke-width:1.2}"
    ".s0{stroke:#08519c}.s1{stroke:#a63603;stroke-dasharray:7 3}.s2{stroke:#31724a;stroke-dasharray:2 3}"
    ".s3{stroke:#756bb1;stroke-dasharray:9 3 2 3}.s4{stroke:#636363;stroke-dasharray:4 4}"
    ".s5{stroke:#b8860b;stroke-dasharray:12 4}.s6{stroke:#111;stroke-dasharray:1 "
    "4}.s7{stroke:#c51b8a;stroke-dasharray:6 2}"
    ".p0{fill:#3b7fb6}.p1{fill:#cfcfcf}.p2{fill:#c9622d}.inside{fill:#111;font-size:12px}";

constexpr double key_left = 560.0;
constexpr report::Frame line_frame{
    .width = 860.0, .height = 400.0, .left = 70.0, .right = 530.0, .top = 50.0, .bottom = 340.0};

report::Markup open_chart(const report::Frame& frame, const std::string& title, const std::string& description) {
    report::Markup out;
    out.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                     {"viewBox", "0 0 " + coordinate(frame.width) + " " + coordinate(frame.height)},
                     {"width", coordinate(frame.width)},
                     {"height", coordinate(frame.height)},
                     {"role", "img"}});
    out.element("title", title);
    out.element("desc", description);
    out.element("style", style);
    out.empty("rect", {{"width", "100%"}, {"height", "100%"}, {"fill", "#fff"}});
    report::label(out, frame.left, 24.0, "start", "title", title);
    return out;
}

std::string line_class(const LineChart& chart, std::size_t series) {
    return "s" + std::to_string(series) + (chart.series[series].main ? " main" : "");
}

void draw_series(report::Markup& out, const LineChart& chart, std::size_t series, const report::Scale& x,
                 const report::Scale& y) {
    const auto inside = [&](double value) { return std::clamp(value, chart.y.low, chart.y.high); };
    std::vector<std::pair<double, double>> path;
    for (const Point& point : chart.series[series].points) {
        if (!std::isfinite(point.y)) {
            continue;
        }
        path.emplace_back(x(point.x), y(inside(point.y)));
        if (chart.series[series].main && point.low < point.high) {
            report::polyline(out, "bar s" + std::to_string(series),
                             {{x(point.x), y(inside(point.low))}, {x(point.x), y(inside(point.high))}});
        }
    }
    report::polyline(out, line_class(chart, series), path);
    const double row = line_frame.top + 14.0 + 24.0 * static_cast<double>(series);
    report::polyline(out, line_class(chart, series), {{key_left, row}, {key_left + 34.0, row}});
    report::label(out, key_left + 42.0, row + 4.5, "start", "key", chart.series[series].name);
}

} // namespace

std::string draw(const LineChart& chart) {
    assert(chart.series.size() <= 8);
    report::Markup out = open_chart(line_frame, chart.title, chart.description);
    const report::Scale x{chart.x.low, chart.x.high, line_frame.left, line_frame.right, chart.x.kind};
    const report::Scale y{chart.y.low, chart.y.high, line_frame.bottom, line_frame.top, chart.y.kind};
    report::horizontal_axis(out, line_frame, x, chart.x.ticks, chart.x.caption);
    report::vertical_axis(out, line_frame, y, chart.y.ticks);
    report::label(out, line_frame.left, line_frame.top - 8.0, "start", "axis", chart.y.caption);
    for (std::size_t s = 0; s < chart.series.size(); ++s) {
        draw_series(out, chart, s, x, y);
    }
    out.close("svg");
    return std::move(out).str() + "\n";
}

std::string draw(const BarChart& chart) {
    assert(chart.parts.size() <= 3 && chart.bars.size() == chart.shares.size());
    constexpr double row_height = 30.0;
    const report::Frame frame{.width = 860.0,
                              .height = 120.0 + row_height * static_cast<double>(chart.bars.size()),
                              .left = 150.0,
                              .right = 820.0,
                              .top = 70.0,
                              .bottom = 70.0 + row_height * static_cast<double>(chart.bars.size())};
    report::Markup out = open_chart(frame, chart.title, chart.description);
    const report::Scale x{0.0, 1.0, frame.left, frame.right};
    const auto box = [&](std::size_t part, double left, double top, double width, double height) {
        out.empty("rect", {{"class", "p" + std::to_string(part)},
                           {"x", coordinate(left)},
                           {"y", coordinate(top)},
                           {"width", coordinate(width)},
                           {"height", coordinate(height)}});
    };
    for (std::size_t part = 0; part < chart.parts.size(); ++part) {
        const double at = frame.left + 140.0 * static_cast<double>(part);
        box(part, at, 40.0, 14.0, 14.0);
        report::label(out, at + 20.0, 52.0, "start", "key", chart.parts[part]);
    }
    for (std::size_t bar = 0; bar < chart.bars.size(); ++bar) {
        const double top = frame.top + row_height * static_cast<double>(bar);
        report::label(out, frame.left - 10.0, top + 17.0, "end", "key", chart.bars[bar]);
        double from = 0.0;
        for (std::size_t part = 0; part < chart.parts.size(); ++part) {
            const double share = chart.shares[bar].at(part);
            box(part, x(from), top + 2.0, x(from + share) - x(from), row_height - 6.0);
            if (share >= 0.05) {
                report::label(out, x(from + 0.5 * share), top + 17.0, "middle", "inside",
                              std::to_string(std::lround(100.0 * share)) + " %");
            }
            from += share;
        }
    }
    out.close("svg");
    return std::move(out).str() + "\n";
}

} // namespace retap::validate
