// Plays takes, one after the other: before and after in turn.
#pragma once

#include "audio/device.hpp"
#include "audio/port_audio.hpp"
#include "audio/sound_file.hpp"
#include "audio/sound_sink.hpp"

#include <chrono>
#include <cstddef>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace retap::audio {

struct PlaySettings {
    int times = 1;        ///< how often all of them are played in turn
    double pause_s = 0.5; ///< between two of them
};

/// What goes to the device, and which take is heard when.
struct PlayPlan {
    struct Part {
        std::size_t take = 0;
        std::size_t begin_frame = 0;
        std::size_t end_frame = 0;
        bool operator==(const Part&) const = default;
    };
    StreamFormat format{};
    std::vector<float> samples{};
    std::vector<Part> parts{};
};

/// Lays the takes out in `format`. Another rate is converted; one channel goes to both sides; two become one by their
/// mean. Takes of `format` pass sample by sample.
[[nodiscard]] PlayPlan plan_playback(std::span<const Sound> takes, StreamFormat format, const PlaySettings& settings);

/// The rate and channels of the first take if the device takes them, else what comes nearest. Throws DeviceError when
/// it takes nothing at all.
[[nodiscard]] StreamFormat choose_play_format(const SoundSystem& system, const Device& device, const Sound& first);

/// Plays a plan from construction on. Prints nothing.
class Player {
public:
    /// Throws DeviceError.
    Player(std::shared_ptr<SoundSystem> system, const Device& device, PlayPlan plan);

    /// Which take is being played; nothing in a pause and at the end.
    [[nodiscard]] std::optional<std::size_t> take_now() const;
    /// Waits; true once all was played. Throws DeviceError when the device is lost or has stopped taking sound.
    [[nodiscard]] bool wait_for(std::chrono::milliseconds time);

private:
    std::shared_ptr<SoundSystem> system_; // outlives the stream
    Device device_;
    std::vector<PlayPlan::Part> parts_;
    std::size_t frames_;
    OutputStream stream_;
    std::chrono::steady_clock::time_point moved_at_ = std::chrono::steady_clock::now();
    std::size_t moved_to_ = 0;
};

} // namespace retap::audio
