// A short listen, to see that the pick-up is there and its level makes sense. Nothing is stored.
#pragma once

#include "audio/device.hpp"
#include "audio/sound_sink.hpp"

#include <string_view>

namespace retap::audio {

struct LevelReading {
    double seconds = 0.0;
    double peak_dbfs = -300.0;  ///< largest sample
    double noise_dbfs = -300.0; ///< RMS of the quiet moments, above some 150 Hz
    bool lost_sound = false;    ///< the device or this program did not keep up
};

/// Listens for so long, while a SoundSystem lives. Throws DeviceError when the device refuses or is lost.
[[nodiscard]] LevelReading check_level(const Device& device, StreamFormat format, double seconds);

/// What the reading means, as a sentence with what to do.
[[nodiscard]] std::string_view plain(const LevelReading& reading);

} // namespace retap::audio
