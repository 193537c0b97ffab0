#include "audio/device_watchdog.hpp"

#include <chrono>
#include <cstdint>
#include <doctest/doctest.h>

using retap::audio::DeviceWatchdog;
using namespace std::chrono_literals;

TEST_CASE("half a second without a callback is silence, also before the first one") {
    const DeviceWatchdog::Clock::time_point start{};
    DeviceWatchdog watchdog(start);
    CHECK_FALSE(watchdog.is_silent(0, start + 10ms));
    int looks = 0;
    for (auto now = start + 20ms; !watchdog.is_silent(0, now); now += 10ms) {
        ++looks;
    }
    CHECK(looks == 49); // 20 ms to 500 ms; the next look is beyond the limit
}

TEST_CASE("a callback now and then is enough") {
    DeviceWatchdog::Clock::time_point now{};
    DeviceWatchdog watchdog(now);
    for (std::uint64_t callbacks = 1; callbacks < 20; ++callbacks) {
        for (int i = 0; i < 48; ++i) {
            now += 10ms;
            CHECK_FALSE(watchdog.is_silent(callbacks, now));
        }
    }
}

TEST_CASE("time in which the program itself did not run does not count against the device") {
    DeviceWatchdog::Clock::time_point now{};
    DeviceWatchdog watchdog(now);
    CHECK_FALSE(watchdog.is_silent(5, now += 10ms));
    CHECK_FALSE(watchdog.is_silent(5, now += 8h)); // the lid was closed
    CHECK_FALSE(watchdog.is_silent(5, now += 10ms));
    CHECK_FALSE(watchdog.is_silent(6, now += 10ms));
}
