// Visits and entries as rows of the stores on databases. Part of sql_store; not for others.
#pragma once

#include "visit/database.hpp"
#include "visit/visit.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace retap::visit {

/// Values by the names of their columns; an absent value is NULL.
using Row = std::vector<std::pair<std::string, std::optional<std::string>>>;

/// Everything that stands in the row of an entry besides the visit's number.
[[nodiscard]] Row entry_row(const Entry& entry);
/// The columns in the order of entry_row. What does not belong there is passed over; strays() tells.
[[nodiscard]] Entry entry_from(const SqlRow& row);

/// The row that stands for a visit in lists, all of it derived from its entries.
[[nodiscard]] Row visit_row(const Visit& visit);

/// "a, b, c" and "?, ?, ?".
[[nodiscard]] std::string columns_of(const Row& row);
[[nodiscard]] std::string marks_of(const Row& row);
[[nodiscard]] std::vector<SqlValue> values_of(const Row& row);

/// The columns in which `found` is not what `written` says.
[[nodiscard]] std::vector<std::string> strays(const Row& written, const SqlRow& found);

} // namespace retap::visit
