#include "audio/device_watchdog.hpp"

#include <chrono>
#include <cstdint>
#include <doctest/doctest.h>

using retap::audio::DeviceWatchdog;
using namespace std::chrono_literals;

namespace {

/// Looks every 10 ms while no callback comes; how many looks it takes until that is silence.
int looks_until_silent(std::uint64_t callbacks) {
    DeviceWatchdog::Clock::time_point now{};
    DeviceWatchdog watchdog(now);
    static_cast<void>(watchdog.is_silent(callbacks, now)); // these were there already
    int looks = 1;
    while (!watchdog.is_silent(callbacks, now += 10ms)) {
        ++looks;
    }
    return looks;
}

} // namespace

TEST_CASE("half a second without a callback is silence, and nine tenths before the first one") {
    CHECK(looks_until_silent(1) == 51); // 500 ms are within the limit, 510 are not
    CHECK(looks_until_silent(0) == 91);
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
