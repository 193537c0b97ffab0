#include "audio/device.hpp"

#include "error.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace retap::audio {
namespace {

bool serves(const Device& device, Direction direction) {
    return (direction == Direction::input ? device.input_channels : device.output_channels) > 0;
}

bool is_default(const Device& device, Direction direction) {
    return direction == Direction::input ? device.default_input : device.default_output;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return out;
}

std::optional<int> whole_number(const std::string& text) {
    int value = 0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    return end.ec == std::errc() && end.ptr == text.data() + text.size() ? std::optional(value) : std::nullopt;
}

std::string purpose(Direction direction) {
    return direction == Direction::input ? "record from" : "play on";
}

template <class Fits>
std::vector<const Device*> those(std::span<const Device> devices, Direction direction, Fits fits) {
    std::vector<const Device*> found;
    for (const Device& device : devices) {
        if (serves(device, direction) && fits(device)) {
            found.push_back(&device);
        }
    }
    return found;
}

[[noreturn]] void refuse(std::span<const Device> devices, Direction direction, const std::string& fault,
                         const std::string& advice) {
    const std::string list = list_devices(devices, direction);
    throw DeviceError("Cannot " + purpose(direction) + fault + " " +
                      (list.empty() ? "There is no device to " + purpose(direction) + " now; plug one in and try again."
                                    : advice + " There are:\n" + list));
}

const Device& by_wish(std::span<const Device> devices, Direction direction, const std::string& wanted) {
    if (const auto number = whole_number(wanted)) {
        const auto found = those(devices, direction, [&](const Device& d) { return d.number == *number; });
        if (found.size() == 1) {
            return *found.front();
        }
    }
    const std::string wish = lower(wanted);
    auto found = those(devices, direction, [&](const Device& d) { return lower(d.name) == wish; });
    if (found.empty() && wish == "default") {
        found = those(devices, direction, [&](const Device& d) { return is_default(d, direction); });
    }
    if (found.empty()) {
        found =
            those(devices, direction, [&](const Device& d) { return lower(d.name).find(wish) != std::string::npos; });
    }
    if (found.empty()) {
        refuse(devices, direction, " '" + wanted + "': no device is called that.", "Choose one by name or number.");
    }
    if (found.size() > 1) {
        refuse(devices, direction, " '" + wanted + "': more than one device fits.", "Choose one by its number.");
    }
    return *found.front();
}

} // namespace

std::span<const double> recording_rates_hz() {
    static constexpr std::array rates = {48000.0, 96000.0, 44100.0};
    return rates;
}

const Device& choose_device(std::span<const Device> devices, Direction direction,
                            const std::optional<std::string>& wanted,
                            const std::optional<RememberedDevice>& remembered) {
    if (wanted) {
        return by_wish(devices, direction, *wanted);
    }
    if (remembered) {
        const auto found = those(devices, direction, [&](const Device& d) {
            return d.name == remembered->name && d.system == remembered->system;
        });
        if (found.empty()) {
            refuse(devices, direction, " '" + remembered->name + "', the device that was chosen last: it is not there.",
                   "Plug it in, or choose another with --device.");
        }
        return *found.front();
    }
    const auto found = those(devices, direction, [&](const Device& d) { return is_default(d, direction); });
    if (found.empty()) {
        refuse(devices, direction, " the default device: the system names none.", "Choose one with --device.");
    }
    return *found.front();
}

std::string list_devices(std::span<const Device> devices, Direction direction) {
    std::string out;
    for (const Device& device : devices) {
        if (serves(device, direction)) {
            out += (out.empty() ? "  " : "\n  ") + std::to_string(device.number) + "  " + device.name + " (" +
                   device.system + (is_default(device, direction) ? ", default)" : ")");
        }
    }
    return out;
}

} // namespace retap::audio
