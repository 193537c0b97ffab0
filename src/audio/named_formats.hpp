// The sound formats that are read, told by how a file begins.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

namespace retap::audio {

/// As people are told.
inline constexpr std::string_view named_formats = "WAV, FLAC, AIFF, OGG and MP3";

/// Whether a file that begins with these bytes (twelve are enough) is of one of them. The libraries that decode know
/// dozens more, old and rarely used ones whose readers few have looked at: they are not asked about anything else.
[[nodiscard]] bool is_named_format(std::span<const std::byte> first_bytes);

} // namespace retap::audio
