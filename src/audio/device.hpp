// Sound devices, and how one is chosen.
#pragma once

#include "audio/sound_sink.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::audio {

struct Device {
    int number = 0; ///< as listed now; changes when devices come and go
    std::string name{};
    std::string system{}; ///< the sound system it belongs to, e.g. "ALSA"
    int input_channels = 0;
    int output_channels = 0;
    double usual_rate_hz = 0.0; ///< as the system says; others may do
    bool default_input = false;
    bool default_output = false;
};

enum class Direction { input, output };

/// The rates a take is recorded at, the preferred one first.
[[nodiscard]] std::span<const double> recording_rates_hz();

/// A device as it was chosen before: numbers change, so it is known by name and system.
struct RememberedDevice {
    std::string name{};
    std::string system{};
};

/// `wanted` is a number from the list, a whole name, or a part of exactly one name; case does not matter. "default" is
/// the system's default unless a device is called that. Without it the remembered device is taken, and without that the
/// system's default. Throws DeviceError, with the devices there are, when nothing or more than one thing fits, and when
/// the remembered device is not there: another pick-up must not be taken for it unnoticed.
[[nodiscard]] const Device& choose_device(std::span<const Device> devices, Direction direction,
                                          const std::optional<std::string>& wanted,
                                          const std::optional<RememberedDevice>& remembered);

/// One line each, for messages: "  2  Pick-up (ALSA)".
[[nodiscard]] std::string list_devices(std::span<const Device> devices, Direction direction);

} // namespace retap::audio
