#include "report/listening_plot.hpp"

#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <cassert>
#include <vector>

namespace retap::report {

namespace {

constexpr double size = 5.0;
constexpr double max_um = 300.0;

std::vector<Tick> heights_between(double low, double high) {
    std::vector<Tick> ticks;
    for (const double um : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0}) {
        if (um >= low && um <= high) {
            ticks.push_back({um, number(um, 0) + " \u00B5m"});
        }
    }
    return ticks;
}

std::vector<Tick> trials_up_to(std::size_t count) {
    const std::size_t step = count > 30 ? 10 : 5;
    std::vector<Tick> ticks{{1.0, "1"}};
    for (std::size_t i = step; i <= count; i += step) {
        ticks.push_back({static_cast<double>(i), std::to_string(i)});
    }
    return ticks;
}

void draw_threshold(Markup& out, const Frame& frame, const Scale& y, const compare::Threshold& threshold) {
    const auto at = [&](double um) { return y(std::clamp(um, y.from_value, y.to_value)); };
    if (!threshold.value) {
        return;
    }
    const double top = threshold.high ? at(*threshold.high) : frame.top;
    const double bottom = threshold.low ? at(*threshold.low) : frame.bottom;
    out.open("g", {{"class", "before"}});
    out.empty("rect", {{"class", "rise-bar"},
                       {"x", coordinate(frame.left)},
                       {"y", coordinate(top)},
                       {"width", coordinate(frame.right - frame.left)},
                       {"height", coordinate(bottom - top)}});
    polyline(out, "middle", {{frame.left, at(*threshold.value)}, {frame.right, at(*threshold.value)}});
    out.close("g");
    label(out, frame.right + 10, at(*threshold.value) + 4, "start", "axis", number(*threshold.value, 0) + " \u00B5m");
}

} // namespace

std::string listening_plot(std::span<const compare::StaircaseTrial> trials, const compare::Threshold& threshold) {
    if (trials.empty()) {
        return {};
    }
    double lowest = max_um;
    std::size_t right = 0;
    for (const compare::StaircaseTrial& trial : trials) {
        assert(trial.level > 0.0);
        lowest = std::min(lowest, trial.level);
        right += trial.right ? 1 : 0;
    }
    if (threshold.value) {
        lowest = std::clamp(*threshold.value, 1.0, lowest);
    }
    const Frame frame{.width = 720, .height = 300, .left = 76, .right = 640, .top = 10, .bottom = 250};
    constexpr double room = 1.6; // below the lowest mark
    const Scale y{lowest / room, max_um, frame.bottom, frame.top, Scale::Kind::logarithmic};
    const Scale x{0.0, static_cast<double>(trials.size()) + 1.0, frame.left, frame.right};
    Markup out;
    open_drawing(out, frame, "listening", "Your answers, trial by trial",
                 count(trials.size(), "trial", "trials") + ", " + std::to_string(right) + " right");
    horizontal_axis(out, frame, x, trials_up_to(trials.size()), "Trial");
    vertical_axis(out, frame, y, heights_between(y.from_value, y.to_value));
    draw_threshold(out, frame, y, threshold);
    for (std::size_t i = 0; i < trials.size(); ++i) {
        const Side side = trials[i].right ? Side::before : Side::after;
        out.open("g", {{"class", std::string(css(side))}});
        mark(out, side, x(static_cast<double>(i + 1)), y(trials[i].level), size);
        out.close("g");
    }
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
