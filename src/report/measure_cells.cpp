#include "report/measure_cells.hpp"

#include "report/wording.hpp"

namespace retap::report {

namespace {

constexpr std::string_view nothing = "\u2013";

MeasureCells landing_cells(const compare::MeasureComparison& measure) {
    return {.before = std::string(nothing),
            .before_scatter = {},
            .after = std::string(nothing),
            .after_scatter = {},
            .difference = quantity(measure.difference, measure.unit),
            .low = quantity(measure.low, ""),
            .high = quantity(measure.high, ""),
            .tolerance = quantity(measure.tolerance, measure.unit)};
}

bool one_contact(std::string_view name, const dsp::Summary& side) {
    return name == "onset_spread" && side.n > 0 && side.middle == 0.0;
}

} // namespace

std::string middle_text(std::string_view name, const dsp::Summary& side, std::string_view unit) {
    if (side.n == 0) {
        return "not heard";
    }
    return one_contact(name, side) ? "one contact" : quantity(side.middle, unit);
}

std::string scatter_text(std::string_view name, const dsp::Summary& side, std::string_view unit) {
    const bool tells = side.n > 1 && !(one_contact(name, side) && side.scatter == 0.0);
    return tells ? quantity(side.scatter, difference_unit(unit)) : "";
}

MeasureCells measure_cells(const compare::MeasureComparison& measure) {
    if (measure.unit == compare::times_the_usual) {
        return landing_cells(measure);
    }
    MeasureCells cells;
    cells.before = middle_text(measure.name, measure.before, measure.unit);
    cells.before_scatter = scatter_text(measure.name, measure.before, measure.unit);
    cells.after = middle_text(measure.name, measure.after, measure.unit);
    cells.after_scatter = scatter_text(measure.name, measure.after, measure.unit);
    const bool both_heard = measure.before.n > 0 && measure.after.n > 0;
    if (both_heard && !(one_contact(measure.name, measure.before) && one_contact(measure.name, measure.after))) {
        const std::string_view unit = difference_unit(measure.unit);
        cells.difference = signed_quantity(measure.difference, unit);
        cells.low = signed_quantity(measure.low, unit);
        cells.high = signed_quantity(measure.high, unit);
        cells.tolerance = measure.tolerance > 0.0 ? "\u00B1\u00A0" + quantity(measure.tolerance, unit) : "";
    }
    return cells;
}

} // namespace retap::report
