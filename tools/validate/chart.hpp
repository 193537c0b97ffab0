// The plots of the validation page, each a self-contained SVG file.
#pragma once

#include "report/svg_frame.hpp"

#include <string>
#include <vector>

namespace retap::validate {

struct Point {
    double x = 0.0;
    double y = 0.0;
    double low = 0.0; ///< ends of the interval; equal to y where there is none
    double high = 0.0;
};

struct Series {
    std::string name;
    std::vector<Point> points{};
    bool main = false; ///< drawn thick, with its intervals
};

struct Axis {
    std::string caption;
    double low = 0.0;
    double high = 1.0;
    std::vector<report::Tick> ticks{};
    report::Scale::Kind kind = report::Scale::Kind::linear;
};

struct LineChart {
    std::string title;
    std::string description; ///< for those who cannot see it
    Axis x;
    Axis y;
    std::vector<Series> series{}; ///< at most eight (asserted): beyond that nobody can tell them apart
};
[[nodiscard]] std::string draw(const LineChart& chart);

/// One bar a row, split into parts that add up to 1.
struct BarChart {
    std::string title;
    std::string description;
    std::vector<std::string> parts{};          ///< names; at most three (asserted)
    std::vector<std::string> bars{};           ///< names
    std::vector<std::vector<double>> shares{}; ///< bars x parts
};
[[nodiscard]] std::string draw(const BarChart& chart);

} // namespace retap::validate
