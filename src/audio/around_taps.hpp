// The part of a recording that is worth listening to, and no talk: for reports, which travel.
#pragma once

#include "audio/sound_file.hpp"

#include <filesystem>
#include <optional>
#include <span>

namespace retap::audio {

struct AroundTapsSettings {
    double margin_s = 0.5;   ///< kept before and after each tap
    double fade_s = 0.005;   ///< at every cut, so that it does not click
    double longest_s = 60.0; ///< of the result; what comes after is left out
};

/// What lies within the margin of a tap (onsets in seconds, ascending), joined. Its comment is the recording's
/// CaptureNote with the places where it was joined, so that nothing is timed across them. Nothing without taps.
[[nodiscard]] std::optional<Sound> around_taps(const Sound& sound, std::span<const double> onsets_s,
                                               const AroundTapsSettings& settings = {});
/// The same from a file; the rest of the recording is never held. Throws InputError as SoundReader does.
[[nodiscard]] std::optional<Sound> read_around_taps(const std::filesystem::path& path, std::span<const double> onsets_s,
                                                    const ChannelChoice& choice = {},
                                                    const AroundTapsSettings& settings = {});

} // namespace retap::audio
