// Records from sound files as if they were a pick-up, so that tests need no sound card.
#pragma once

#include "chairside/take_recorder.hpp"

#include <filesystem>
#include <vector>

namespace retap::test {

/// What the next recordings hear, in order; the last goes on. Special names: "none" has no device, "silence" hears
/// nothing, and a name that ends in ":lost" loses the device half way through the file.
struct PlayedSettings {
    std::vector<std::string> sounds;
    double speed = 1.0; ///< times real time
};

[[nodiscard]] std::unique_ptr<chairside::TakeRecorder> played_recorder(PlayedSettings settings);

} // namespace retap::test
