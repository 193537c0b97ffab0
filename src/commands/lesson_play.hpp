// Gives the sounds of the lessons away: as files, or to the loudspeaker.
#pragma once

#include "lesson/bite_sounds.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace retap::commands {

/// Writes a WAV (24 bits).
void write_lesson_sound(const std::filesystem::path& file, const audio::Sound& sound);

/// Plays one after the other with half a second in between, until the end or Ctrl-C. Throws DeviceError.
void play_sounds(const std::vector<audio::Sound>& sounds, const std::optional<std::string>& device);

} // namespace retap::commands
