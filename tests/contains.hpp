#pragma once

#include <string_view>

namespace retap::test {

/// Whether `part` stands anywhere in `text`.
[[nodiscard]] inline bool contains(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

} // namespace retap::test
