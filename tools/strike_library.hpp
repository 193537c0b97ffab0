// Recorded impacts from Debian's sample packages, for the generators and for validation. Nothing of them is copied into
// the project; without the packages there is no strike family.
#pragma once

#include "bite/modal_voice.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace retap::tools {

struct Strike {
    std::string name;    ///< path below the share folder
    std::string package; ///< Debian package it comes from
    bite::Stretch
        sound; ///< mono at 48 kHz, peak about 1, first sample at the onset; damped by exp(-t / 12 ms), over by 60 ms
};

/// Loads about fifteen dry, short impacts of different kinds (sticks, rims, wood, claves, fingertips) from
/// hydrogen-drumkits, hydrogen-data and sonic-pi-samples. The onset is the last sample below 1 % of the peak before the
/// first one above it, after conversion to 48 kHz. Throws InputError naming the packages to install when one is
/// missing.
[[nodiscard]] std::vector<Strike> load_strikes(const std::filesystem::path& share = "/usr/share");

/// One recording, as load_strikes() prepares it. Throws InputError naming the package when it is missing.
[[nodiscard]] Strike load_strike(const std::filesystem::path& share, const std::string& package,
                                 const std::string& path);

/// Only the sounds, in the same order.
[[nodiscard]] std::vector<bite::Stretch> sounds_of(const std::vector<Strike>& strikes);

} // namespace retap::tools
