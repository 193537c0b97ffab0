#include "chart/warning_signs.hpp"

#include <algorithm>

namespace retap::chart {

std::string plain_warning(std::string_view about) {
    const auto known = std::ranges::find(warning_signs, about, &WarningSign::word);
    return std::string(known == warning_signs.end() ? about : known->plain);
}

bool settled(const std::vector<Warning>& warnings, std::string_view about) {
    return std::ranges::any_of(warnings,
                               [about](const Warning& warning) { return warning.about == about && warning.settled(); });
}

} // namespace retap::chart
