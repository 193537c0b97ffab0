// Which devices were chosen last: retap/devices in XDG_CONFIG_HOME, or in ~/.config.
#pragma once

#include "audio/device.hpp"

#include <filesystem>
#include <optional>

namespace retap::audio {

/// Nothing when neither XDG_CONFIG_HOME nor HOME says where settings are kept.
[[nodiscard]] std::optional<std::filesystem::path> device_memory_file();

/// Nothing when none was chosen, and when the file cannot be read or is none of ours.
[[nodiscard]] std::optional<RememberedDevice> remembered_device(const std::filesystem::path& file, Direction direction);

/// Keeps the choice for the next time, beside what is remembered for the other direction. Throws InputError.
void remember_device(const std::filesystem::path& file, Direction direction, const RememberedDevice& device);
/// From now on the system's default is taken again. Throws InputError.
void forget_device(const std::filesystem::path& file, Direction direction);

} // namespace retap::audio
