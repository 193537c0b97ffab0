// Devices through PortAudio. The only file that knows it is port_audio.cpp.
#pragma once

#include "audio/capture_queue.hpp"
#include "audio/device.hpp"
#include "audio/sound_sink.hpp"

#include <atomic>
#include <chrono>
#include <cstddef>
#include <memory>
#include <vector>

namespace retap::audio {

/// PortAudio, started for as long as one of these lives; without chatter on stderr. The list of devices is as of the
/// first one's start: drop them all to see what was plugged in since. May be used from several threads.
/// Throws DeviceError.
class SoundSystem {
public:
    SoundSystem();
    ~SoundSystem();
    SoundSystem(const SoundSystem&) = delete;
    SoundSystem& operator=(const SoundSystem&) = delete;

    [[nodiscard]] std::vector<Device> devices() const;
    /// Asks the device without opening it for good.
    [[nodiscard]] bool accepts(const Device& device, Direction direction, StreamFormat format) const;
};

/// The rate to record at: `wanted_hz`, or the first of recording_rates_hz() that the device takes. Throws DeviceError
/// when it takes none, or not the wanted one; the message says which it takes.
[[nodiscard]] double choose_rate(const SoundSystem& system, const Device& device, int channels,
                                 std::optional<double> wanted_hz);

/// Sound from a device into a queue, from construction on. The callback copies, counts and returns.
class InputStream {
public:
    /// Throws DeviceError when the device refuses.
    InputStream(const Device& device, std::shared_ptr<CaptureQueue> queue);
    /// Closes within a second.
    ~InputStream();
    InputStream(const InputStream&) = delete;
    InputStream& operator=(const InputStream&) = delete;

    /// False once the device is gone. True says little: a device can stop delivering and stay active.
    [[nodiscard]] bool active() const;
    /// Gives the device back. That may never return when its server died, so it is done by another thread and waited
    /// for no longer than `limit`. False when it did not come back; the library is then left running until the program
    /// ends.
    bool close(std::chrono::milliseconds limit);

private:
    struct State;
    std::shared_ptr<State> state_;
};

/// Plays samples on a device, from construction on. The callback copies and returns.
class OutputStream {
public:
    /// `samples`: interleaved, in `format`. Throws DeviceError when the device refuses.
    OutputStream(const Device& device, StreamFormat format, std::shared_ptr<const std::vector<float>> samples);
    /// Closes within a second.
    ~OutputStream();
    OutputStream(const OutputStream&) = delete;
    OutputStream& operator=(const OutputStream&) = delete;

    /// Frames handed to the device so far.
    [[nodiscard]] std::size_t position() const;
    /// True once everything was played, and when the device is gone.
    [[nodiscard]] bool finished() const;
    bool close(std::chrono::milliseconds limit);

private:
    struct State;
    std::shared_ptr<State> state_;
};

} // namespace retap::audio
