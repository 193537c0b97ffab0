#include "report/tooth_chart.hpp"

#include "chart/notation.hpp"
#include "report/chart_signs.hpp"
#include "report/markup.hpp"
#include "report/svg_frame.hpp"

#include <algorithm>
#include <array>

namespace retap::report {

namespace {

using chart::Arch;
using chart::Tooth;

constexpr double arch_height = 46.0;
constexpr double upper_top = 22.0;
constexpr double lower_top = 106.0;
constexpr double midline_gap = 14.0;
constexpr double height = 188.0;

double width_of(Tooth tooth) {
    switch (tooth.kind()) {
    case chart::ToothKind::incisor:
        return 24.0;
    case chart::ToothKind::canine:
        return 26.0;
    case chart::ToothKind::premolar:
        return 28.0;
    case chart::ToothKind::molar:
        break;
    }
    return 36.0;
}

/// Left edges of the 16 columns, and the right edge of the last as a 17th.
std::array<double, 17> columns() {
    std::array<double, 17> edges{};
    double x = 4.0;
    for (std::size_t column = 0; column < 16; ++column) {
        edges.at(column) = x;
        x += width_of(chart::all_teeth().at(column)) + (column == 7 ? midline_gap : 0.0);
    }
    edges.at(16) = x;
    return edges;
}

struct Box {
    double left;
    double top;
    double width;

    [[nodiscard]] double middle() const { return left + width / 2; }
};

Box box_of(Tooth tooth) {
    static const std::array<double, 17> edges = columns();
    return {edges.at(static_cast<std::size_t>(tooth.column())), tooth.arch() == Arch::upper ? upper_top : lower_top,
            width_of(tooth)};
}

void rectangle(Markup& out, const Box& box, double inset, std::string_view css_class) {
    out.empty("rect", {{"class", std::string(css_class)},
                       {"x", coordinate(box.left + inset)},
                       {"y", coordinate(box.top + inset)},
                       {"width", coordinate(box.width - 2 * inset)},
                       {"height", coordinate(arch_height - 2 * inset)},
                       {"rx", "7"}});
}

void draw_tooth(Markup& out, const ToothChart& chart, Tooth tooth) {
    const Box box = box_of(tooth);
    rectangle(out, box, 1.0, "tooth");
    if (std::find(chart.treated.begin(), chart.treated.end(), tooth) != chart.treated.end()) {
        rectangle(out, box, 4.0, "treated");
    }
    label(out, box.middle(), tooth.arch() == Arch::upper ? upper_top - 7 : lower_top + arch_height + 15, "middle",
          "tooth-number", name(tooth, chart.numbering));
}

std::pair<double, double> place_of(const chart::Mark& mark) {
    const Box box = box_of(mark.tooth);
    const OnTooth at = place_on_tooth(mark.place);
    // towards the midline is to the right on the patient's right side, which is drawn on the left
    const bool drawn_left = mark.tooth.side() == chart::Side::right;
    const double across = drawn_left ? 1.0 - at.distal : at.distal;
    const double down = mark.tooth.arch() == Arch::upper ? at.inward : 1.0 - at.inward;
    return {box.left + box.width * across, box.top + arch_height * down};
}

using Ends = std::pair<std::pair<double, double>, std::pair<double, double>>;

Ends ends_of(const chart::TeethPair& pair) {
    return {{box_of(pair.upper).middle(), upper_top + arch_height + 2}, {box_of(pair.lower).middle(), lower_top - 2}};
}

void draw_baseline(Markup& out, const chart::LookCharts& baseline) {
    if (baseline.holds) {
        for (const auto& [pair, film] : *baseline.holds) {
            const auto [from, to] = ends_of(pair);
            film_before(out, film, from, to);
        }
    }
    if (baseline.marks) {
        for (const chart::Mark& mark : baseline.marks->marks) {
            const auto [x, y] = place_of(mark);
            mark_before(out, mark, x, y);
        }
    }
}

bool among(const std::vector<chart::TeethPair>& pairs, const chart::TeethPair& pair) {
    return std::find(pairs.begin(), pairs.end(), pair) != pairs.end();
}

void draw_film(Markup& out, const ToothChart& chart, const chart::TeethPair& pair, chart::Film film) {
    const auto [from, to] = ends_of(pair);
    film_sign(out, film, from, to);
    if (chart.changes == nullptr) {
        return;
    }
    const bool lost = among(chart.changes->holds_lost, pair);
    if (lost || among(chart.changes->holds_gained, pair)) {
        label(out, (from.first + to.first) / 2 + 7, (from.second + to.second) / 2 + 6, "start", "film-change",
              lost ? "\u2212" : "+");
    }
}

std::string description(const ToothChart& chart) {
    if (!chart.described) {
        return "Film and marks, to be charted from the drawing.";
    }
    std::string said = chart.charts.holds ? "Film: " + chart::write_holds(*chart.charts.holds, chart.numbering) + ". "
                                          : std::string("Film not charted. ");
    return said + (chart.charts.marks ? "Marks: " + chart::write_marks(*chart.charts.marks, chart.numbering) + "."
                                      : std::string("Marks not charted."));
}

} // namespace

std::string tooth_chart(const ToothChart& chart) {
    Markup out;
    const Frame frame{
        .width = columns().at(16) + 4, .height = height, .left = 0, .right = 0, .top = 0, .bottom = height};
    open_drawing(out, frame, "teeth", "Teeth, " + chart.title, description(chart));
    for (const Tooth tooth : chart::all_teeth()) {
        draw_tooth(out, chart, tooth);
    }
    if (chart.baseline) {
        draw_baseline(out, *chart.baseline);
    }
    if (chart.charts.holds) {
        for (const auto& [pair, film] : *chart.charts.holds) {
            draw_film(out, chart, pair, film);
        }
    }
    if (chart.charts.marks) {
        for (const chart::Mark& mark : chart.charts.marks->marks) {
            const auto [x, y] = place_of(mark);
            mark_sign(out, mark, x, y);
        }
    }
    label(out, 4, height - 2, "start", "tooth-side", "patient's right");
    label(out, columns().at(16), height - 2, "end", "tooth-side", "patient's left");
    out.close("svg");
    return std::move(out).str();
}

} // namespace retap::report
