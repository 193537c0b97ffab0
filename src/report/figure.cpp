#include "report/figure.hpp"

namespace retap::report {

void key_entry(Markup& out, std::string_view side, std::string_view words) {
    out.open("span", {{"class", "key"}});
    out.open("svg", {{"class", "plot"}, {"viewBox", "0 0 44 14"}, {"aria-hidden", "true"}});
    out.open("g", {{"class", std::string(side)}});
    out.empty("path", {{"class", "middle"}, {"d", "M2 7L42 7"}});
    if (side == "before") {
        out.empty("circle", {{"class", "mark before"}, {"cx", "22"}, {"cy", "7"}, {"r", "4"}});
    } else {
        out.empty("rect", {{"class", "mark after"}, {"x", "18"}, {"y", "3"}, {"width", "8"}, {"height", "8"}});
    }
    out.close("g").close("svg").text(words).close("span");
}

void figure(Markup& out, std::string_view css_class, const std::string& plot, std::string_view title,
            std::string_view caption) {
    if (plot.empty()) {
        return;
    }
    out.open("figure", {{"class", std::string(css_class)}});
    out.element("h3", title).add(plot).element("figcaption", caption).close("figure");
}

} // namespace retap::report
