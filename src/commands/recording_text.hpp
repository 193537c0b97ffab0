// What came of a recording, for people and as JSON.
#pragma once

#include "audio/take_recording.hpp"
#include "report/json.hpp"

#include <string>

namespace retap::commands {

/// Where the take is, how it ended, what is in it and whether it is fit. There must be a take.
[[nodiscard]] std::string recording_text(const audio::Recording& recording);
/// retap.recording/1
[[nodiscard]] report::Json recording_json(const audio::Recording& recording);

} // namespace retap::commands
