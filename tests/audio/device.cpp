#include "audio/device.hpp"

#include "error.hpp"

#include <doctest/doctest.h>
#include <optional>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;

namespace {

const std::vector<Device> devices = {
    {.number = 0, .name = "Line in", .system = "ALSA", .input_channels = 2},
    {.number = 1, .name = "Speaker", .system = "ALSA", .output_channels = 2, .default_output = true},
    {.number = 2, .name = "Pick-up A", .system = "ALSA", .input_channels = 1, .default_input = true},
    {.number = 3, .name = "Pick-up B", .system = "ALSA", .input_channels = 1},
    {.number = 4, .name = "Line in", .system = "JACK", .input_channels = 2},
};

int chosen(const std::optional<std::string>& wanted, const std::optional<RememberedDevice>& remembered = std::nullopt) {
    return choose_device(devices, Direction::input, wanted, remembered).number;
}

} // namespace

TEST_CASE("a device is chosen by number, by whole name, or by a part of one name, whatever the case") {
    CHECK(chosen("3") == 3);
    CHECK(chosen("Pick-up A") == 2);
    CHECK(chosen("pick-UP b") == 3);
    CHECK(chosen("up a") == 2);
    CHECK(chosen("default") == 2);
    CHECK(choose_device(devices, Direction::output, "speak", std::nullopt).number == 1);
}

TEST_CASE("without a wish the remembered device is taken, then the default") {
    CHECK(chosen(std::nullopt, RememberedDevice{.name = "Line in", .system = "JACK"}) == 4);
    CHECK(chosen(std::nullopt) == 2);
    CHECK(chosen("0", RememberedDevice{.name = "Line in", .system = "JACK"}) == 0);
}

TEST_CASE("a choice that fits nothing or more than one is refused with the list") {
    CHECK_THROWS_WITH_AS(chosen("tooth"), doctest::Contains("3  Pick-up B (ALSA)"), DeviceError);
    CHECK_THROWS_WITH_AS(chosen("pick-up"), doctest::Contains("more than one"), DeviceError);
    CHECK_THROWS_AS(chosen("Line in"), DeviceError); // in two systems
    CHECK_THROWS_AS(chosen("1"), DeviceError);       // only plays
    CHECK_THROWS_AS(chosen("17"), DeviceError);
}

TEST_CASE("a remembered device that is not there is not replaced unnoticed") {
    CHECK_THROWS_WITH_AS(chosen(std::nullopt, RememberedDevice{.name = "Pick-up C", .system = "ALSA"}),
                         doctest::Contains("it is not there"), DeviceError);
}

TEST_CASE("without any device the message says so") {
    CHECK_THROWS_WITH_AS(static_cast<void>(choose_device({}, Direction::input, std::nullopt, std::nullopt)),
                         doctest::Contains("There is no device to"), DeviceError);
}
