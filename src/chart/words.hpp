// Small helpers for sentences.
#pragma once

#include <string>
#include <vector>

namespace retap::chart {

/// "a", "a and b", "a, b and c"; empty for nothing.
[[nodiscard]] std::string join_with_and(const std::vector<std::string>& items);
/// "1 hold", "2 holds".
[[nodiscard]] std::string count_of(std::size_t n, const std::string& singular, const std::string& plural);

} // namespace retap::chart
