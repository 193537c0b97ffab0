// Results as JSON. The formats are described field by field in FORMATS.md beside this file; the schemas in
// tests/schemas hold every test run to them. The one place that includes nlohmann/json.
#pragma once

#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"

#include <nlohmann/json.hpp>
#include <string>

namespace retap::report {

/// Members keep the order in which they were put in.
using Json = nlohmann::ordered_json;

/// A number rounded to so many decimals, for JSON; null when it is not finite. Never -0.
[[nodiscard]] Json rounded(double value, int decimals);
/// A number rounded to six significant digits, for values whose unit is not known here; null when it is not finite.
[[nodiscard]] Json significant(double value);

/// retap.take/1
[[nodiscard]] Json take_json(const dsp::TakeAnalysis& take);
/// The same without its settings, for documents that say once what was in force for all takes in them.
[[nodiscard]] Json take_without_settings_json(const dsp::TakeAnalysis& take);
/// retap.comparison/1. Both takes were analysed with the same settings.
[[nodiscard]] Json comparison_json(const compare::Comparison& comparison);
/// What was in force for this take, by stage; without stages for a take that nobody analysed.
[[nodiscard]] Json settings_json(const dsp::TakeAnalysis& take);
/// What was in force for both takes and for comparing them.
[[nodiscard]] Json settings_json(const compare::Comparison& comparison);

/// As text with a newline at the end, indented for people or on one line. Bytes that are not UTF-8, as file names may
/// hold, become U+FFFD.
enum class JsonLayout { indented, one_line };
[[nodiscard]] std::string json_text(const Json& json, JsonLayout layout = JsonLayout::indented);

} // namespace retap::report
