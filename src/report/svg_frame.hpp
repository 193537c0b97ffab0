// The frame the plots share: a drawing area, its scales, ticks and captions.
#pragma once

#include "report/markup.hpp"

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::report {

/// A coordinate with one decimal, which is a tenth of a unit of the drawing.
[[nodiscard]] std::string coordinate(double value);

/// Maps values to coordinates; a logarithmic one needs positive ends (asserted).
struct Scale {
    enum class Kind { linear, logarithmic };
    double from_value;
    double to_value;
    double from_coordinate;
    double to_coordinate;
    Kind kind = Kind::linear;

    [[nodiscard]] double operator()(double value) const;
};

/// A tick: where it stands and what is written there.
struct Tick {
    double value;
    std::string label;
};

/// Ticks at 1, 2 or 5 times a power of ten, about `wanted` of them, inside [low, high]. Labels carry the digits needed.
[[nodiscard]] std::vector<Tick> linear_ticks(double low, double high, int wanted);

/// The drawing area inside an SVG of this size.
struct Frame {
    double width;
    double height;
    double left;
    double right;
    double top;
    double bottom;
};

/// Opens <svg> with a title and a description for readers of the text; the caller closes it.
void open_drawing(Markup& out, const Frame& frame, std::string_view kind, std::string_view title,
                  std::string_view description);
/// Ticks and their labels below the area, with vertical grid lines, and the axis caption under them.
void horizontal_axis(Markup& out, const Frame& frame, const Scale& x, const std::vector<Tick>& ticks,
                     std::string_view caption);
/// Ticks and labels left of the area, with horizontal grid lines.
void vertical_axis(Markup& out, const Frame& frame, const Scale& y, const std::vector<Tick>& ticks);
/// Text at a point; `anchor` is start, middle or end.
void label(Markup& out, double x, double y, std::string_view anchor, std::string_view css_class, std::string_view text);
/// A line through the points, as a path of this class.
void polyline(Markup& out, std::string_view css_class, const std::vector<std::pair<double, double>>& points);
/// The mark of a side: a filled disc for before, a hollow square for after; `size` is its half width.
enum class Side { before, after };
void mark(Markup& out, Side side, double x, double y, double size);

[[nodiscard]] std::string_view css(Side side);

} // namespace retap::report
