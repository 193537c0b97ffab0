#include "audio/device_watchdog.hpp"

#include <algorithm>
#include <cstdint>

namespace retap::audio {

bool DeviceWatchdog::is_silent(std::uint64_t callbacks, Clock::time_point now) {
    const Clock::duration step = std::min<Clock::duration>(now - last_look_, longest_step);
    last_look_ = now;
    if (callbacks != last_callbacks_) {
        last_callbacks_ = callbacks;
        silent_ = {};
    } else {
        silent_ += step;
    }
    return silent_ > (last_callbacks_ == 0 ? start_limit : limit);
}

} // namespace retap::audio
