// Choosing a device, as record, play and devices do it.
#pragma once

#include "audio/device.hpp"
#include "audio/port_audio.hpp"
#include "command_line.hpp"

#include <optional>
#include <string>

namespace retap::commands {

/// `--device NAME`.
Option add_device_option(Command command, std::optional<std::string>& wanted);

/// By wish, as remembered, or the default; see audio::choose_device.
[[nodiscard]] audio::Device chosen_device(const audio::SoundSystem& system, audio::Direction direction,
                                          const std::optional<std::string>& wanted);

/// Remembers a device that was asked for by name or number, once it has shown that it works; asking for the default
/// forgets what was remembered. Only warns when that cannot be written down.
void remember_choice(audio::Direction direction, const std::optional<std::string>& wanted, const audio::Device& device);

} // namespace retap::commands
