// A table as Markdown that also reads well in a terminal, and as CSV.
#pragma once

#include "validate/pairs.hpp"

#include <string>
#include <vector>

namespace retap::validate {

struct TextTable {
    std::vector<std::string> head{};
    std::vector<std::vector<std::string>> rows{}; ///< each as long as head (asserted when written)
};

/// Columns padded to one width; the first to the left, the others to the right.
[[nodiscard]] std::string markdown(const TextTable& table);
/// RFC 4180, lines ended by a line feed.
[[nodiscard]] std::string csv(const TextTable& table);

/// A number with so many decimals; "-" when it is not finite.
[[nodiscard]] std::string fixed(double value, int decimals);
/// ".93 (.90-.96)", and "1.00" without a zero ahead of the point for what is below one.
[[nodiscard]] std::string with_interval(double value, double low, double high);
/// "95 % (90-98)".
[[nodiscard]] std::string percent(const Share& share);

} // namespace retap::validate
