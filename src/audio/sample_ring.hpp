// A queue of samples between one writing and one reading thread, without locks.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::audio {

/// Single producer, single consumer. push() and pop() never block, allocate or fail in part; each may be called from
/// one thread only. Samples pushed are seen by the reader whole and in order.
class SampleRing {
public:
    /// Holds at least `samples` samples (rounded up to a power of two).
    explicit SampleRing(std::size_t samples);

    /// Producer's side: whether a push of `samples` would fit. Once true it stays true until the next push.
    [[nodiscard]] bool has_room_for(std::size_t samples) const noexcept;
    /// Copies all of `samples` in, or nothing and returns false when they do not fit.
    [[nodiscard]] bool push(std::span<const float> samples) noexcept;
    /// Takes up to out.size() samples out; returns how many.
    std::size_t pop(std::span<float> out) noexcept;

    [[nodiscard]] std::size_t capacity() const noexcept { return slots_.size(); }
    /// Pushed so far. Reading it makes everything pushed before visible to the caller.
    [[nodiscard]] std::uint64_t pushed() const noexcept { return head_.load(std::memory_order_acquire); }
    /// Taken out so far.
    [[nodiscard]] std::uint64_t popped() const noexcept { return tail_.load(std::memory_order_acquire); }

private:
    std::vector<float> slots_;
    std::size_t mask_;
    std::atomic<std::uint64_t> head_{0};
    std::atomic<std::uint64_t> tail_{0};
};

} // namespace retap::audio
