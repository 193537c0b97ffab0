// A sound file through the whole sound stage.
#pragma once

#include "dsp/take.hpp"

#include <filesystem>

namespace retap::audio {

/// Reads, converts to the analysis rate and analyses `path` in blocks: memory stays flat however long the file is.
/// Throws InputError.
[[nodiscard]] dsp::TakeAnalysis inspect_file(const std::filesystem::path& path);

} // namespace retap::audio
