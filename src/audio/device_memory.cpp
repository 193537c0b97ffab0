#include "audio/device_memory.hpp"

#include "aside_file.hpp"
#include "audio/key_lines.hpp"
#include "error.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <string>
#include <system_error>

namespace retap::audio {
namespace fs = std::filesystem;
namespace {

std::string key(Direction direction, const char* what) {
    return std::string(direction == Direction::input ? "input " : "output ") + what;
}

KeyLines read(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return read_key_lines(std::string(std::istreambuf_iterator<char>(in), {}));
}

void write(const fs::path& file, Direction direction, const std::optional<RememberedDevice>& device) {
    KeyLines lines = read(file);
    std::erase_if(lines, [&](const auto& line) {
        return line.first == key(direction, "name") || line.first == key(direction, "system");
    });
    if (device) {
        lines.emplace_back(key(direction, "name"), device->name);
        lines.emplace_back(key(direction, "system"), device->system);
    }
    std::error_code fault;
    fs::create_directories(file.parent_path(), fault);
    if (fault) {
        throw InputError("Cannot remember the chosen device in '" + file.string() + "': " + fault.message() + ".");
    }
    write_file_whole(file, write_key_lines(lines));
}

} // namespace

std::optional<fs::path> device_memory_file() {
    const auto setting = [](const char* name) {
        const char* value = std::getenv(name);
        return fs::path(value == nullptr ? "" : value);
    };
    if (const fs::path config = setting("XDG_CONFIG_HOME"); config.is_absolute()) {
        return config / "retap" / "devices";
    }
    if (const fs::path home = setting("HOME"); home.is_absolute()) {
        return home / ".config" / "retap" / "devices";
    }
    return std::nullopt;
}

std::optional<RememberedDevice> remembered_device(const fs::path& file, Direction direction) {
    const KeyLines lines = read(file);
    RememberedDevice device{.name = value_of(lines, key(direction, "name")),
                            .system = value_of(lines, key(direction, "system"))};
    return device.name.empty() ? std::nullopt : std::optional(device);
}

void remember_device(const fs::path& file, Direction direction, const RememberedDevice& device) {
    write(file, direction, device);
}

void forget_device(const fs::path& file, Direction direction) {
    write(file, direction, std::nullopt);
}

} // namespace retap::audio
