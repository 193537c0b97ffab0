#include "report/listening_plot.hpp"

#include "markup_nesting.hpp"

#include <doctest/doctest.h>
#include <string>
#include <vector>

using namespace retap;

namespace {

std::size_t times(const std::string& text, const std::string& part) {
    std::size_t n = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + part.size())) {
        ++n;
    }
    return n;
}

} // namespace

TEST_CASE("each trial is one mark, right ones and wrong ones of different shape") {
    const std::vector<compare::StaircaseTrial> trials{{200.0, true}, {100.0, true}, {50.0, false}, {71.0, true}};
    const std::string plot = report::listening_plot(trials, {.value = 60.0, .low = 40.0, .high = 90.0});
    CHECK(times(plot, "<circle") == 3);
    CHECK(times(plot, "class=\"mark after\"") == 1);
    CHECK(times(plot, "rise-bar") == 1);
    CHECK(plot.find("60 \u00B5m") != std::string::npos);
    CHECK(plot.find("4\u00A0trials, 3 right") != std::string::npos);
    CHECK(test::nesting_fault(plot) == "");
}

TEST_CASE("an open threshold draws no line, and no trials draw nothing") {
    const std::vector<compare::StaircaseTrial> trials{{200.0, true}};
    CHECK(times(report::listening_plot(trials, {}), "rise-bar") == 0);
    CHECK(report::listening_plot({}, {}).empty());
    // Open on one side: the band goes to the edge of the drawing.
    CHECK(times(report::listening_plot(trials, {.value = 3.0, .low = std::nullopt, .high = 20.0}), "rise-bar") == 1);
}
