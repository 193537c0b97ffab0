// Records a take from a device, hands-free: start it, look at it now and then, read the result.
#pragma once

#include "audio/device.hpp"
#include "audio/port_audio.hpp"
#include "audio/take_recording.hpp"

#include <chrono>
#include <filesystem>
#include <memory>

namespace retap::audio {

struct RecorderSettings {
    Device device{};
    StreamFormat format{};
    std::filesystem::path destination{};    ///< .wav or .flac; must not exist
    std::filesystem::path journal_folder{}; ///< made when missing; see unfinished_folder()
    SessionSettings session{};
};

/// Listens from construction on, in threads of its own, and ends by itself. Safe to use from several threads. Prints
/// nothing.
class Recorder {
public:
    /// Throws DeviceError when the device refuses; InputError when the destination exists or cannot be reached, or the
    /// journal cannot be begun.
    Recorder(std::shared_ptr<SoundSystem> system, const RecorderSettings& settings);
    /// Stops, keeps the take, and waits.
    ~Recorder();
    Recorder(const Recorder&) = delete;
    Recorder& operator=(const Recorder&) = delete;

    [[nodiscard]] SessionProgress progress() const;
    /// Asks for the end; the take is kept.
    void stop();
    /// True once the recording has ended and its take is finished.
    [[nodiscard]] bool wait_for(std::chrono::milliseconds time) const;
    /// Waits for the end.
    [[nodiscard]] const Recording& result() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::audio
