// Hands sound from a device's callback to a worker thread, and counts what was lost on the way.
#pragma once

#include "audio/sample_ring.hpp"
#include "audio/sound_sink.hpp"

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::audio {

/// What a device delivered and what got lost. A gap is one uninterrupted stretch of missing sound.
struct CaptureCounts {
    std::uint64_t callbacks = 0;
    std::uint64_t frames = 0;           ///< delivered, including those we had no room for
    std::uint64_t lost_frames = 0;      ///< delivered but thrown away because the worker did not keep up
    std::uint64_t device_overflows = 0; ///< times the device said that it had thrown sound away itself
};

/// One callback thread pushes, one worker drains; neither waits for the other. Samples after a gap never reach the
/// worker without the gap: when there is no room to note it, they are thrown away too and the gap grows.
class CaptureQueue {
public:
    /// Room for `seconds` of sound.
    CaptureQueue(StreamFormat format, double seconds);

    /// Callback side: copies, counts and returns. `device_lost` says that the device threw sound away before this
    /// block.
    void push(std::span<const float> interleaved, bool device_lost) noexcept;

    /// Worker side: passes on everything pushed so far, with gaps in their places. Returns the frames passed on.
    std::size_t drain(SoundSink& sink);

    /// Any thread.
    [[nodiscard]] CaptureCounts counts() const noexcept;
    [[nodiscard]] StreamFormat format() const noexcept { return format_; }

private:
    struct Gap {
        std::uint64_t at_sample = 0;
        std::uint64_t lost_frames = 0;
    };
    [[nodiscard]] bool note_gap(Gap gap) noexcept;
    [[nodiscard]] const Gap* next_gap() const noexcept;

    StreamFormat format_;
    SampleRing ring_;
    std::vector<float> out_; // the worker's

    std::array<Gap, 64> gaps_{};
    std::atomic<std::uint64_t> gaps_noted_{0};
    std::atomic<std::uint64_t> gaps_passed_{0};

    bool gap_open_ = false; // the callback's
    std::uint64_t gap_frames_ = 0;

    std::atomic<std::uint64_t> callbacks_{0};
    std::atomic<std::uint64_t> frames_{0};
    std::atomic<std::uint64_t> lost_frames_{0};
    std::atomic<std::uint64_t> device_overflows_{0};
};

} // namespace retap::audio
