// From a journal to a finished take.
#pragma once

#include "audio/capture_note.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>

namespace retap::audio {

struct FinishedTake {
    std::filesystem::path file;
    CaptureNote note;
    double duration_s = 0.0;
};

/// Writes what the journal holds to `destination` (.wav or .flac, 24 bits), whole or not at all, and never over a file
/// that exists. `note` is completed with what the journal says: take, device, start, joins. The journal is left alone.
/// Nothing when the journal holds no sound. Throws InputError.
[[nodiscard]] std::optional<FinishedTake> finish_take(const std::filesystem::path& journal,
                                                      const std::filesystem::path& destination, CaptureNote note);

} // namespace retap::audio
