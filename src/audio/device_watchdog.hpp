// Tells when a device has stopped delivering.
#pragma once

#include <chrono>
#include <cstdint>

namespace retap::audio {

/// Ask it regularly. Silence is counted in small steps of the asker's own time: when the asker itself was held up (a
/// suspended computer, a stopped program), that time does not count against the device.
class DeviceWatchdog {
public:
    using Clock = std::chrono::steady_clock;

    explicit DeviceWatchdog(Clock::time_point now) : last_look_(now) {}

    /// `callbacks`: how many there were so far. True when there was none for `limit`, or for `start_limit` when there
    /// was none at all yet: some devices need a moment to begin.
    [[nodiscard]] bool is_silent(std::uint64_t callbacks, Clock::time_point now);

    static constexpr std::chrono::milliseconds limit{500};
    static constexpr std::chrono::milliseconds start_limit{900};
    static constexpr std::chrono::milliseconds longest_step{50};

private:
    Clock::time_point last_look_;
    std::uint64_t last_callbacks_ = 0;
    Clock::duration silent_{};
};

} // namespace retap::audio
