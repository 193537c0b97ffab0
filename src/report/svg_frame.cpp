#include "report/svg_frame.hpp"

#include "report/wording.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace retap::report {

std::string coordinate(double value) {
    std::array<char, 32> buffer{};
    const double kept = std::isfinite(value) ? std::clamp(value, -1e6, 1e6) : 0.0;
    const auto [end, error] =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), kept, std::chars_format::fixed, 1);
    assert(error == std::errc());
    std::string text(buffer.data(), end);
    if (text.ends_with(".0")) {
        text.resize(text.size() - 2);
    }
    return text == "-0" ? "0" : text;
}

double Scale::operator()(double value) const {
    if (kind == Kind::logarithmic) {
        assert(from_value > 0.0 && to_value > 0.0);
        const double share = std::log(value / from_value) / std::log(to_value / from_value);
        return from_coordinate + share * (to_coordinate - from_coordinate);
    }
    return from_coordinate + (value - from_value) / (to_value - from_value) * (to_coordinate - from_coordinate);
}

std::vector<Tick> linear_ticks(double low, double high, int wanted) {
    std::vector<Tick> ticks;
    if (!(high > low) || wanted < 1) {
        return ticks;
    }
    const double raw = (high - low) / wanted;
    const double power = std::pow(10.0, std::floor(std::log10(raw)));
    const double lead = raw / power;
    const double step = power * (lead <= 1.0 ? 1.0 : lead <= 2.0 ? 2.0 : lead <= 5.0 ? 5.0 : 10.0);
    const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
    // A thousandth of a step of slack keeps the end ticks against rounding.
    const auto first = static_cast<long>(std::ceil(low / step - 1e-3));
    const auto last = static_cast<long>(std::floor(high / step + 1e-3));
    for (long i = first; i <= last; ++i) {
        const double value = static_cast<double>(i) * step;
        ticks.push_back({value, number(value, decimals)});
    }
    return ticks;
}

void open_drawing(Markup& out, const Frame& frame, std::string_view kind, std::string_view title,
                  std::string_view description) {
    out.open("svg", {{"class", "plot plot-" + std::string(kind)},
                     {"viewBox", "0 0 " + coordinate(frame.width) + " " + coordinate(frame.height)},
                     {"role", "img"},
                     {"aria-label", std::string(title) + ". " + std::string(description)}});
}

void horizontal_axis(Markup& out, const Frame& frame, const Scale& x, const std::vector<Tick>& ticks,
                     std::string_view caption) {
    for (const Tick& tick : ticks) {
        const std::string at = coordinate(x(tick.value));
        out.empty("line", {{"class", "grid"},
                           {"x1", at},
                           {"x2", at},
                           {"y1", coordinate(frame.top)},
                           {"y2", coordinate(frame.bottom)}});
        label(out, x(tick.value), frame.bottom + 17, "middle", "tick", tick.label);
    }
    label(out, (frame.left + frame.right) / 2, frame.bottom + 36, "middle", "axis", caption);
}

void vertical_axis(Markup& out, const Frame& frame, const Scale& y, const std::vector<Tick>& ticks) {
    for (const Tick& tick : ticks) {
        const std::string at = coordinate(y(tick.value));
        out.empty("line", {{"class", "grid"},
                           {"x1", coordinate(frame.left)},
                           {"x2", coordinate(frame.right)},
                           {"y1", at},
                           {"y2", at}});
        label(out, frame.left - 8, y(tick.value) + 4.5, "end", "tick", tick.label);
    }
}

void label(Markup& out, double x, double y, std::string_view anchor, std::string_view css_class,
           std::string_view text) {
    out.element("text",
                {{"class", std::string(css_class)},
                 {"x", coordinate(x)},
                 {"y", coordinate(y)},
                 {"text-anchor", std::string(anchor)}},
                text);
}

void polyline(Markup& out, std::string_view css_class, const std::vector<std::pair<double, double>>& points) {
    if (points.empty()) {
        return;
    }
    std::string path;
    for (const auto& [x, y] : points) {
        path += path.empty() ? "M" : "L";
        path += coordinate(x) + " " + coordinate(y);
    }
    out.empty("path", {{"class", std::string(css_class)}, {"d", path}});
}

void mark(Markup& out, Side side, double x, double y, double size) {
    if (side == Side::before) {
        out.empty("circle",
                  {{"class", "mark before"}, {"cx", coordinate(x)}, {"cy", coordinate(y)}, {"r", coordinate(size)}});
        return;
    }
    out.empty("rect", {{"class", "mark after"},
                       {"x", coordinate(x - size)},
                       {"y", coordinate(y - size)},
                       {"width", coordinate(2 * size)},
                       {"height", coordinate(2 * size)}});
}

std::string_view css(Side side) {
    return side == Side::before ? "before" : "after";
}

} // namespace retap::report
