// What this machine fills in when a visit is opened and it is not said.
#pragma once

#include "chart/tooth.hpp"

#include <filesystem>
#include <optional>
#include <string>

namespace retap::visit {

struct Defaults {
    std::string worker{};
    std::string supervisor{};
    std::optional<chart::Numbering> numbering{};
    bool operator==(const Defaults&) const = default;
};

/// $XDG_CONFIG_HOME/retap/visits, else ~/.config/retap/visits; nothing when neither says a place.
[[nodiscard]] std::optional<std::filesystem::path> defaults_file();

/// A file of "name: value" lines. None of the defaults when there is no such file; lines that are not known are passed
/// over. Throws InputError when the numbering in it is none, or when it cannot be read.
[[nodiscard]] Defaults read_defaults(const std::filesystem::path& file);
/// Makes the folder when it is not there; for the owner alone. Throws InputError.
void write_defaults(const std::filesystem::path& file, const Defaults& defaults);

} // namespace retap::visit
