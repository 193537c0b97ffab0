// The figures of a cohort as a table, as CSV, as JSON and as a page.
#pragma once

#include "report/json.hpp"
#include "visit/cohort.hpp"

#include <string>
#include <vector>

namespace retap::commands {

/// For a terminal; small numbers have a * behind them.
[[nodiscard]] std::string cohort_table(const std::vector<visit::CohortRow>& rows);
/// RFC 4180, lines that end in LF; columns as FORMATS.md describes them.
[[nodiscard]] std::string cohort_csv(const std::vector<visit::CohortRow>& rows);
/// retap.cohort/1
[[nodiscard]] report::Json cohort_json(const std::vector<visit::CohortRow>& rows);
/// A self-contained page with the shares as points with their intervals. `when` as it shall be read.
[[nodiscard]] std::string cohort_html(const std::vector<visit::CohortRow>& rows, const std::string& when);

} // namespace retap::commands
