#include "report/measure_cells.hpp"

#include <doctest/doctest.h>

using namespace retap;

namespace {

compare::MeasureComparison compared(const char* name, const char* unit, dsp::Summary before, dsp::Summary after) {
    compare::MeasureComparison measure;
    measure.name = name;
    measure.unit = unit;
    measure.before = before;
    measure.after = after;
    measure.difference = after.middle - before.middle;
    measure.low = measure.difference - 0.5;
    measure.high = measure.difference + 0.5;
    measure.tolerance = 1.5;
    return measure;
}

} // namespace

TEST_CASE("The landing has no value before or after: its size, without a sign, is the difference") {
    auto landing = compared("landing", "times the usual", {0.0, 1.0, 8}, {4.31, 1.0, 8});
    const report::MeasureCells cells = report::measure_cells(landing);
    CHECK(cells.before == "\u2013");
    CHECK(cells.after == "\u2013");
    CHECK(cells.before_scatter.empty());
    CHECK(cells.after_scatter.empty());
    CHECK(cells.difference == "4.31\u00A0times the usual");
    CHECK(cells.low == "3.81");
    CHECK(cells.high == "4.81");
    CHECK(cells.tolerance == "1.50\u00A0times the usual");
}

TEST_CASE("A spread of nothing is one contact, and between two of those there is no difference to tell") {
    const dsp::Summary one{0.0, 0.0, 8};
    const dsp::Summary two{0.42, 0.05, 8};
    const report::MeasureCells both = report::measure_cells(compared("onset_spread", "ms", one, one));
    CHECK(both.before == "one contact");
    CHECK(both.after == "one contact");
    CHECK(both.before_scatter.empty());
    CHECK(both.difference.empty());
    CHECK(both.low.empty());
    CHECK(both.tolerance.empty());

    const report::MeasureCells gained = report::measure_cells(compared("onset_spread", "ms", one, two));
    CHECK(gained.before == "one contact");
    CHECK(gained.after == "0.42\u00A0ms");
    CHECK(gained.after_scatter == "0.05\u00A0ms");
    CHECK(gained.difference == "+0.42\u00A0ms");

    CHECK(report::measure_cells(compared("rise", "ms", one, two)).before == "0.00\u00A0ms");
}

TEST_CASE("Levels are in dBFS, what they differ and scatter by in dB") {
    const report::MeasureCells cells = report::measure_cells(compared("peak", "dBFS", {-9.0, 1.7, 8}, {-11.0, 3.2, 8}));
    CHECK(cells.before == "\u22129.0\u00A0dBFS");
    CHECK(cells.before_scatter == "1.7\u00A0dB");
    CHECK(cells.difference == "\u22122.0\u00A0dB");
    CHECK(cells.low == "\u22122.5\u00A0dB");
    CHECK(cells.high == "\u22121.5\u00A0dB");
    CHECK(cells.tolerance == "\u00B1\u00A01.5\u00A0dB");
}

TEST_CASE("A side that was not heard leaves no difference, and one value has no scatter") {
    const report::MeasureCells cells = report::measure_cells(compared("left_lead", "ms", {}, {0.1, 0.0, 1}));
    CHECK(cells.before == "not heard");
    CHECK(cells.after == "0.10\u00A0ms");
    CHECK(cells.after_scatter.empty());
    CHECK(cells.difference.empty());
}
