#include "audio/device_memory.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <cstdlib>
#include <doctest/doctest.h>
#include <string>

using namespace retap;
using namespace retap::audio;

TEST_CASE("each direction remembers its own device, until it is forgotten") {
    const test::TempFolder folder;
    const auto file = folder / "config/retap/devices";
    CHECK_FALSE(remembered_device(file, Direction::input).has_value());
    remember_device(file, Direction::input, {.name = "Pick-up: A", .system = "ALSA"});
    remember_device(file, Direction::output, {.name = "Speaker", .system = "JACK"});
    remember_device(file, Direction::input, {.name = "Pick-up: B", .system = "ALSA"});
    REQUIRE(remembered_device(file, Direction::input).has_value());
    CHECK(remembered_device(file, Direction::input)->name == "Pick-up: B");
    CHECK(remembered_device(file, Direction::input)->system == "ALSA");
    CHECK(remembered_device(file, Direction::output)->name == "Speaker");
    forget_device(file, Direction::input);
    CHECK_FALSE(remembered_device(file, Direction::input).has_value());
    CHECK(remembered_device(file, Direction::output).has_value());
}

TEST_CASE("a file of something else remembers nothing, and a place that cannot be written to is said") {
    const test::TempFolder folder;
    test::put_bytes(folder / "devices", "\xff\n:::\n");
    CHECK_FALSE(remembered_device(folder / "devices", Direction::input).has_value());
    CHECK_THROWS_AS(remember_device("/proc/no/devices", Direction::input, {.name = "A", .system = "B"}), InputError);
}

TEST_CASE("the settings follow the environment, and relative settings do not count") {
    // XDG Base Directory Specification: paths set there must be absolute, others are ignored.
    const char* set = std::getenv("HOME");
    const std::string home = set == nullptr ? "" : set;
    setenv("HOME", "/home/clinic", 1);
    setenv("XDG_CONFIG_HOME", "/etc/clinic", 1);
    CHECK(device_memory_file() == "/etc/clinic/retap/devices");
    setenv("XDG_CONFIG_HOME", "config", 1);
    CHECK(device_memory_file() == "/home/clinic/.config/retap/devices");
    unsetenv("XDG_CONFIG_HOME");
    unsetenv("HOME");
    CHECK_FALSE(device_memory_file().has_value());
    setenv("HOME", home.c_str(), 1);
}
