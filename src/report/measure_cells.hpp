// What a compared measure reads like in a row of a table, for the report and the terminal alike.
#pragma once

#include "compare/comparison.hpp"

#include <string>
#include <string_view>

namespace retap::report {

/// The cells of one row, each with its unit. `low` to `high` is the interval of the difference; texts that would say
/// nothing are empty: the scatter of one value, a difference where one side is missing.
struct MeasureCells {
    std::string before;
    std::string before_scatter;
    std::string after;
    std::string after_scatter;
    std::string difference;
    std::string low;
    std::string high;
    std::string tolerance;
};

/// The middle of one side of a measure: "not heard" without values, "one contact" for a spread of nothing.
[[nodiscard]] std::string middle_text(std::string_view name, const dsp::Summary& side, std::string_view unit);

/// What the values of one side scatter by; empty for a single value, and where every tap was one contact.
[[nodiscard]] std::string scatter_text(std::string_view name, const dsp::Summary& side, std::string_view unit);

/// The landing is a relation of the two sides, so neither has a value of its own (an en dash), and its size stands as
/// the difference, without a sign.
[[nodiscard]] MeasureCells measure_cells(const compare::MeasureComparison& measure);

} // namespace retap::report
