#include "audio/level_check.hpp"

#include "audio/capture_queue.hpp"
#include "audio/device_watchdog.hpp"
#include "audio/level_watch.hpp"
#include "audio/port_audio.hpp"
#include "error.hpp"

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <memory>
#include <span>
#include <string_view>
#include <thread>

namespace retap::audio {
namespace {

constexpr double short_queue_s = 2.0;
constexpr std::chrono::milliseconds read_every{10};
constexpr double clipped_dbfs = -0.1;
constexpr double silent_dbfs = -140.0; // below the last bit of 24
constexpr double noisy_dbfs = -45.0;

class Meter : public SoundSink {
public:
    explicit Meter(StreamFormat format) : levels_(format) {}
    void block(std::span<const float> interleaved) override {
        levels_.feed(interleaved);
        reading.peak_dbfs = std::max(reading.peak_dbfs, levels_.peak_dbfs());
        reading.noise_dbfs = levels_.noise_dbfs();
        reading.seconds = levels_.now_s();
    }
    void gap(std::uint64_t /*lost_frames*/) override { reading.lost_sound = true; }

    LevelReading reading;

private:
    LevelWatch levels_;
};

} // namespace

LevelReading check_level(const Device& device, StreamFormat format, double seconds) {
    const auto queue = std::make_shared<CaptureQueue>(format, short_queue_s);
    InputStream stream(device, queue);
    DeviceWatchdog watchdog(DeviceWatchdog::Clock::now());
    Meter meter(format);
    while (meter.reading.seconds < seconds) {
        std::this_thread::sleep_for(read_every);
        if (!stream.active() || watchdog.is_silent(queue->counts().callbacks, DeviceWatchdog::Clock::now())) {
            throw DeviceError("Cannot listen to '" + device.name +
                              "': it delivers no sound. Plug it in again, or choose another with --device.");
        }
        queue->drain(meter);
    }
    return meter.reading;
}

std::string_view plain(const LevelReading& reading) {
    if (reading.peak_dbfs >= clipped_dbfs) {
        return "Too loud: turn the level of the pick-up down.";
    }
    if (reading.peak_dbfs < silent_dbfs) {
        return "Nothing at all is heard: the pick-up is not plugged in, switched off or muted.";
    }
    if (reading.noise_dbfs > noisy_dbfs) {
        return "It is noisy: stop suction and talk, or turn the level of the pick-up down, before recording.";
    }
    return "The level makes sense. Tap once and look again to see how loud a tap is.";
}

} // namespace retap::audio
