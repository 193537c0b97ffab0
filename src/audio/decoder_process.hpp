// Sound from a process of its own, which may break without harm.
#pragma once

#include "audio/frame_source.hpp"

#include <cstddef>
#include <filesystem>
#include <memory>
#include <span>
#include <string>

namespace retap::audio {

/// Whether the program that decodes was built (-DRETAP_FFMPEG=ON) and is where it should be: beside this one, or in
/// ../lib/retap where it was installed.
[[nodiscard]] bool can_decode_phones();

/// Starts a decoder on the file, which must be an ordinary one. The decoder has no rights but to read that file and to
/// compute (helper_rights); hostile bytes can break it and nothing else. Sound comes through a pipe as it is wanted,
/// so that memory stays flat. Throws InputError with a sentence that names the file when it is no sound, damaged, or
/// breaks the decoder, and when there is none.
[[nodiscard]] std::unique_ptr<FrameSource> decode_in_process(const std::filesystem::path& file);
/// The same of bytes in memory, which are copied; `name` stands for them in messages.
[[nodiscard]] std::unique_ptr<FrameSource> decode_in_process(std::span<const std::byte> bytes, const std::string& name);

} // namespace retap::audio
