#include "report/chart_signs.hpp"

#include "report/svg_frame.hpp"
#include "report/tooth_chart.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace retap::report {

namespace {

OnTooth spot_on_tooth(chart::Spot spot) {
    using chart::Spot;
    switch (spot) {
    case Spot::mesiobuccal_cusp:
        return {0.26, 0.22};
    case Spot::distobuccal_cusp:
        return {0.70, 0.22};
    case Spot::mesiolingual_cusp:
        return {0.26, 0.78};
    case Spot::distolingual_cusp:
        return {0.70, 0.78};
    case Spot::distal_cusp:
        return {0.90, 0.30};
    case Spot::buccal_cusp:
        return {0.5, 0.22};
    case Spot::lingual_cusp:
        return {0.5, 0.78};
    case Spot::canine_cusp:
        return {0.5, 0.35};
    case Spot::incisal_edge:
        return {0.5, 0.28};
    case Spot::mesial_fossa:
        return {0.28, 0.5};
    case Spot::distal_fossa:
        return {0.72, 0.5};
    case Spot::lingual_fossa:
        return {0.5, 0.72};
    case Spot::mesial_ridge:
        return {0.10, 0.5};
    case Spot::distal_ridge:
        return {0.90, 0.5};
    case Spot::central_fossa:
        break;
    }
    return {0.5, 0.5};
}

double size_of(chart::Weight weight) {
    switch (weight) {
    case chart::Weight::light:
        return 2.2;
    case chart::Weight::even:
        return 3.4;
    case chart::Weight::heavy:
        break;
    }
    return 5.2;
}

void shape(Markup& out, std::string_view css_class, const std::vector<std::pair<double, double>>& corners) {
    std::string path;
    for (const auto& [x, y] : corners) {
        path += (path.empty() ? "M" : "L") + coordinate(x) + " " + coordinate(y);
    }
    out.empty("path", {{"class", std::string(css_class)}, {"d", path + "Z"}});
}

void circle(Markup& out, std::string_view css_class, double x, double y, double radius) {
    out.empty(
        "circle",
        {{"class", std::string(css_class)}, {"cx", coordinate(x)}, {"cy", coordinate(y)}, {"r", coordinate(radius)}});
}

void line(Markup& out, std::string_view css_class, std::pair<double, double> from, std::pair<double, double> to) {
    out.empty("line", {{"class", std::string(css_class)},
                       {"x1", coordinate(from.first)},
                       {"y1", coordinate(from.second)},
                       {"x2", coordinate(to.first)},
                       {"y2", coordinate(to.second)}});
}

constexpr double corners_further = 1.2; // corners reach further than a disc of the same look

std::vector<std::pair<double, double>> eccentric_corners(chart::Stage stage, double x, double y, double wide) {
    if (stage == chart::Stage::working) {
        return {{x, y - wide}, {x + wide, y + wide}, {x - wide, y + wide}};
    }
    if (stage == chart::Stage::non_working) {
        return {{x, y + wide}, {x + wide, y - wide}, {x - wide, y - wide}};
    }
    return {{x, y - wide}, {x + wide, y}, {x, y + wide}, {x - wide, y}};
}

std::pair<double, double> between(std::pair<double, double> from, std::pair<double, double> to, double part) {
    return {from.first + part * (to.first - from.first), from.second + part * (to.second - from.second)};
}

/// A small drawing of one sign with its word beside it.
template <class Draw>
void sign_entry(Markup& out, std::string_view words, Draw draw) {
    out.open("span", {{"class", "key"}});
    out.open("svg", {{"class", "plot plot-teeth"}, {"viewBox", "0 0 22 22"}, {"aria-hidden", "true"}});
    draw();
    out.close("svg").text(words).close("span");
}

void mark_key(Markup& out, std::string_view words, chart::Stage stage, chart::Weight weight, chart::Where where) {
    sign_entry(out, words, [&] {
        const chart::Tooth any(chart::Arch::upper, chart::Side::right, 6);
        mark_sign(out, {any, {chart::Spot::central_fossa, std::nullopt}, stage, weight, where}, 11, 11);
    });
}

} // namespace

OnTooth place_on_tooth(const chart::Place& place) {
    OnTooth at = spot_on_tooth(place.spot);
    if (!place.incline) {
        return at;
    }
    constexpr double step = 0.13;
    const double towards_middle = at.inward < 0.5 ? step : -step;
    switch (*place.incline) {
    case chart::Facing::inner:
        at.inward += towards_middle;
        break;
    case chart::Facing::outer:
        at.inward -= towards_middle;
        break;
    case chart::Facing::mesial:
        at.distal -= step;
        break;
    case chart::Facing::distal:
        at.distal += step;
        break;
    }
    return at;
}

void mark_sign(Markup& out, const chart::Mark& mark, double x, double y) {
    const double size = size_of(mark.weight);
    const double wide = size + corners_further;
    if (mark.stage == chart::Stage::centric) {
        circle(out, "mark-centric", x, y, size);
    } else {
        shape(out, "mark-eccentric", eccentric_corners(mark.stage, x, y, wide));
    }
    if (mark.on_restoration()) {
        circle(out, "on-restoration", x, y, wide + 2.2);
    }
}

void film_sign(Markup& out, chart::Film film, std::pair<double, double> from, std::pair<double, double> to) {
    switch (film) {
    case chart::Film::hold:
        line(out, "film-hold", from, to);
        break;
    case chart::Film::slide:
        line(out, "film-slide", from, to);
        break;
    case chart::Film::open:
        line(out, "film-open", from, between(from, to, 0.22));
        line(out, "film-open", between(from, to, 0.78), to);
        break;
    case chart::Film::untestable: {
        constexpr double arm = 4.0;
        const auto [x, y] = between(from, to, 0.5);
        line(out, "film-none", {x - arm, y - arm}, {x + arm, y + arm});
        line(out, "film-none", {x - arm, y + arm}, {x + arm, y - arm});
        break;
    }
    }
}

void mark_before(Markup& out, const chart::Mark& mark, double x, double y) {
    constexpr double outside = 2.0;
    const double size = size_of(mark.weight) + outside;
    if (mark.stage == chart::Stage::centric) {
        circle(out, "was", x, y, size);
    } else {
        shape(out, "was", eccentric_corners(mark.stage, x, y, size + corners_further));
    }
}

void film_before(Markup& out, chart::Film film, std::pair<double, double> from, std::pair<double, double> to) {
    const double length = to.second - from.second;
    const auto box = [&](double top, double bottom) {
        constexpr double half = 6.0; // of the bar of a hold and some more
        out.empty("rect", {{"class", "was"},
                           {"x", coordinate((from.first + to.first) / 2 - half)},
                           {"y", coordinate(from.second + top * length)},
                           {"width", coordinate(2 * half)},
                           {"height", coordinate((bottom - top) * length)},
                           {"rx", "3"}});
    };
    switch (film) {
    case chart::Film::hold:
        box(0.0, 1.0);
        break;
    case chart::Film::slide:
        box(0.0, 0.3);
        box(0.35, 0.65);
        box(0.7, 1.0);
        break;
    case chart::Film::open:
        box(0.0, 0.3);
        box(0.7, 1.0);
        break;
    case chart::Film::untestable:
        break;
    }
}

std::string tooth_chart_key(bool with_before) {
    Markup out;
    out.open("p", {{"class", "keys tooth-keys"}});
    const auto film_key = [&](chart::Film film) {
        sign_entry(out, word(film), [&] { film_sign(out, film, {11, 1}, {11, 21}); });
    };
    film_key(chart::Film::hold);
    film_key(chart::Film::slide);
    film_key(chart::Film::open);
    sign_entry(out, "cannot be tested", [&] { film_sign(out, chart::Film::untestable, {11, 1}, {11, 21}); });
    mark_key(out, "centric mark", chart::Stage::centric, chart::Weight::even, chart::Where::not_said);
    mark_key(out, "heavy", chart::Stage::centric, chart::Weight::heavy, chart::Where::not_said);
    mark_key(out, "light", chart::Stage::centric, chart::Weight::light, chart::Where::not_said);
    mark_key(out, "on the restoration", chart::Stage::centric, chart::Weight::even, chart::Where::restoration);
    mark_key(out, "working", chart::Stage::working, chart::Weight::even, chart::Where::not_said);
    mark_key(out, "non-working", chart::Stage::non_working, chart::Weight::even, chart::Where::not_said);
    mark_key(out, "protrusive", chart::Stage::protrusive, chart::Weight::even, chart::Where::not_said);
    if (with_before) {
        sign_entry(out, "outline: before the work", [&] { film_before(out, chart::Film::hold, {11, 1}, {11, 21}); });
    }
    out.element("span", {{"class", "key"}}, "\u2212 hold lost").element("span", {{"class", "key"}}, "+ hold gained");
    out.element("span", {{"class", "key"}}, "double outline: treated tooth");
    out.close("p");
    return std::move(out).str();
}

} // namespace retap::report
