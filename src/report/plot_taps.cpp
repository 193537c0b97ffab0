#include "report/plots.hpp"
#include "report/svg_frame.hpp"
#include "report/tap_envelope.hpp"
#include "report/wording.hpp"

#include <algorithm>

namespace retap::report {

namespace {

constexpr std::size_t max_lines = 12; // more thin lines only darken the figure; the median uses every tap

std::vector<std::vector<double>> envelopes(const dsp::TakeAnalysis& take, const EnvelopeWindow& window) {
    std::vector<std::vector<double>> curves;
    for (const dsp::Tap& tap : take.taps) {
        if (!tap.usable) {
            continue;
        }
        std::vector<double> curve = tap_envelope(tap.excerpt, window);
        if (!curve.empty()) {
            curves.push_back(std::move(curve));
        }
    }
    return curves;
}

std::vector<std::pair<double, double>> points(const std::vector<double>& curve, const EnvelopeWindow& window,
                                              const Scale& x, const Scale& y) {
    std::vector<std::pair<double, double>> line;
    line.reserve(curve.size());
    for (std::size_t i = 0; i < curve.size(); ++i) {
        line.emplace_back(x(window.at_ms(i)), y(curve[i]));
    }
    return line;
}

void draw_side(Markup& out, Side side, const std::vector<std::vector<double>>& curves, const EnvelopeWindow& window,
               const Scale& x, const Scale& y) {
    out.open("g", {{"class", std::string(css(side))}});
    for (std::size_t i = 0; i < std::min(curves.size(), max_lines); ++i) {
        polyline(out, "tap", points(curves[i], window, x, y));
    }
    polyline(out, "middle", points(median_curve(curves), window, x, y));
    out.close("g");
}

} // namespace

std::string taps_plot(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after, const SideNames& names) {
    const EnvelopeWindow window;
    const auto up = envelopes(before, window);
    const auto down = envelopes(after, window);
    if (up.empty() && down.empty()) {
        return {};
    }
    constexpr std::size_t short_name = 6; // letters that fit into the usual margin
    const bool wide = names.before.size() > short_name || names.after.size() > short_name;
    const Frame frame{.width = 960, .height = 330, .left = wide ? 96.0 : 70.0, .right = 950, .top = 10, .bottom = 284};
    const double zero = (frame.top + frame.bottom) / 2;
    const Scale x{window.from_ms, window.to_ms, frame.left, frame.right};
    const Scale y_up{0.0, 1.0, zero, frame.top + 4};
    const Scale y_down{0.0, 1.0, zero, frame.bottom - 4};

    Markup out;
    open_drawing(out, frame, "taps", "Taps laid over each other",
                 "Loudness of each tap over the first " + number(window.to_ms, 0) + " milliseconds. " + names.before +
                     " (" + count(up.size(), "tap", "taps") + ") upwards, " + names.after + " (" +
                     count(down.size(), "tap", "taps") + ") mirrored downwards");
    horizontal_axis(out, frame, x, linear_ticks(window.from_ms, window.to_ms, 13), "Time from first contact, ms");
    draw_side(out, Side::before, up, window, x, y_up);
    draw_side(out, Side::after, down, window, x, y_down);
    out.empty("line", {{"class", "zero"},
                       {"x1", coordinate(frame.left)},
                       {"x2", coordinate(frame.right)},
                       {"y1", coordinate(zero)},
                       {"y2", coordinate(zero)}});
    label(out, frame.left - 10, (frame.top + zero) / 2 + 5, "end", "side before", names.before);
    label(out, frame.left - 10, (zero + frame.bottom) / 2 + 5, "end", "side after", names.after);
    out.close("svg");
    return std::move(out).str();
}

std::string taps_plot(const dsp::TakeAnalysis& take) {
    const EnvelopeWindow window;
    const auto curves = envelopes(take, window);
    if (curves.empty()) {
        return {};
    }
    const Frame frame{.width = 960, .height = 226, .left = 20, .right = 950, .top = 10, .bottom = 180};
    const Scale x{window.from_ms, window.to_ms, frame.left, frame.right};
    const Scale y{0.0, 1.0, frame.bottom, frame.top + 4};

    Markup out;
    open_drawing(out, frame, "taps", "Taps laid over each other",
                 "Loudness of " + count(curves.size(), "tap", "taps") + " over the first " + number(window.to_ms, 0) +
                     " milliseconds");
    horizontal_axis(out, frame, x, linear_ticks(window.from_ms, window.to_ms, 13), "Time from first contact, ms");
    draw_side(out, Side::before, curves, window, x, y);
    out.empty("line", {{"class", "zero"},
                       {"x1", coordinate(frame.left)},
                       {"x2", coordinate(frame.right)},
                       {"y1", coordinate(frame.bottom)},
                       {"y2", coordinate(frame.bottom)}});
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
