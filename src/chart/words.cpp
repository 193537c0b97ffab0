#include "chart/words.hpp"

namespace retap::chart {

std::string join_with_and(const std::vector<std::string>& items) {
    std::string joined;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) {
            joined += i + 1 == items.size() ? " and " : ", ";
        }
        joined += items[i];
    }
    return joined;
}

std::string count_of(std::size_t n, const std::string& singular, const std::string& plural) {
    return std::to_string(n) + " " + (n == 1 ? singular : plural);
}

} // namespace retap::chart
