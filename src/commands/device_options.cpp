#include "device_options.hpp"

#include "audio/device_memory.hpp"
#include "error.hpp"
#include "terminal.hpp"

#include <optional>
#include <string>

namespace retap::commands {

Option add_device_option(Command command, std::optional<std::string>& wanted) {
    return command
        .option("--device", wanted,
                "Name, part of a name, or number of the device, see: retap devices. It is remembered; "
                "'default' goes back to the system's default")
        .type_name("NAME");
}

audio::Device chosen_device(const audio::SoundSystem& system, audio::Direction direction,
                            const std::optional<std::string>& wanted) {
    const auto file = audio::device_memory_file();
    const auto remembered = file ? audio::remembered_device(*file, direction) : std::nullopt;
    return audio::choose_device(system.devices(), direction, wanted, remembered);
}

void remember_choice(audio::Direction direction, const std::optional<std::string>& wanted,
                     const audio::Device& device) {
    const auto file = audio::device_memory_file();
    if (!wanted || !file) {
        return;
    }
    try {
        if (*wanted == "default") {
            audio::forget_device(*file, direction);
        } else {
            audio::remember_device(*file, direction, {.name = device.name, .system = device.system});
        }
    } catch (const InputError& fault) {
        warn(fault.what());
    }
}

} // namespace retap::commands
