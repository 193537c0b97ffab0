// Recorded strikes of one thing at several strengths, so that one hit need not sound like the next.
#pragma once

#include "strike_library.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace retap::tools {

struct StrikeKit {
    std::string name;
    std::vector<bite::Stretch> layers{}; ///< four or five recordings of the same thing, each prepared as a Strike
};

/// Nine kits of sticks, rims, claves and wood from hydrogen-drumkits and hydrogen-data. Throws InputError as
/// load_strikes().
[[nodiscard]] std::vector<StrikeKit> load_kits(const std::filesystem::path& share = "/usr/share");

} // namespace retap::tools
