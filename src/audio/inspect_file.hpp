// A sound file through the whole sound stage.
#pragma once

#include "audio/sound_file.hpp"
#include "dsp/base/take.hpp"

#include <filesystem>
#include <functional>

namespace retap::audio {

/// Called now and then with how many seconds are done, of how many; of 0 when that is not known.
using InspectProgress = std::function<void(double done_s, double of_s)>;

/// Reads, converts to the analysis rate and analyses `path` in blocks: memory stays flat however long the file is.
/// Faults are looked for at the rate of the file, and nothing is timed across the gaps and pauses that its capture
/// noted. Throws InputError as SoundReader does.
[[nodiscard]] dsp::TakeAnalysis inspect_file(const std::filesystem::path& path, const ChannelChoice& choice = {},
                                             const InspectProgress& progress = {});

/// The same for a sound that is already in memory; `name` becomes TakeAnalysis::file. One or two channels (asserted).
[[nodiscard]] dsp::TakeAnalysis inspect_sound(const Sound& sound, const std::string& name);

} // namespace retap::audio
