// From a journal to a finished take.
#pragma once

#include "audio/capture_note.hpp"
#include "audio/kept_spans.hpp"

#include <filesystem>
#include <optional>
#include <vector>

namespace retap::audio {

struct FinishedTake {
    std::filesystem::path file{};
    CaptureNote note{};
    double duration_s = 0.0;
    std::filesystem::path damaged_journal{}; ///< where a journal is kept of which not all could be read
};

/// Writes what the journal holds to `destination` (.wav or .flac, 24 bits), whole or not at all, and never over a file
/// that exists. With `spans` (in frames received, by place) only what lies in them. `note` is completed with what the
/// journal says: take, device, start, joins. What of the journal is
/// damaged is left out, as a gap, and warned of in the note. The journal is left alone. Nothing, and no file, when
/// there is no sound to write. Throws InputError.
[[nodiscard]] std::optional<FinishedTake> finish_take(const std::filesystem::path& journal,
                                                      const std::optional<std::vector<Span>>& spans,
                                                      const std::filesystem::path& destination, CaptureNote note);

} // namespace retap::audio
