// Tells a sound file by how it begins.
#pragma once

#include <filesystem>
#include <optional>
#include <span>
#include <string_view>

namespace retap::audio {

/// What the file is called when its first bytes are those of a sound or film format: "WAV", "FLAC", "MP4", ...; nothing
/// for any other, for what cannot be read, and for what is no ordinary file. The bytes are those that each format's
/// specification asks for at its start; MP3 without a tag is told by its ending too, since its frames begin with
/// eleven set bits, which other things do as well. What it cannot see: raw samples without a header.
[[nodiscard]] std::optional<std::string_view> sound_kind(const std::filesystem::path& file);

/// The same of the first bytes of something; twelve are enough, all but the last four may be missing.
[[nodiscard]] std::optional<std::string_view> sound_kind(std::span<const std::byte> first_bytes);

} // namespace retap::audio
