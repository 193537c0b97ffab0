#include "audio/sample_ring.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cstddef>
#include <cstdint>
#include <span>

namespace retap::audio {

SampleRing::SampleRing(std::size_t samples) : slots_(std::bit_ceil(samples)), mask_(slots_.size() - 1) {
    assert(samples > 0);
}

bool SampleRing::has_room_for(std::size_t samples) const noexcept {
    const std::uint64_t used = head_.load(std::memory_order_relaxed) - tail_.load(std::memory_order_acquire);
    return samples <= slots_.size() - used;
}

bool SampleRing::push(std::span<const float> samples) noexcept {
    if (!has_room_for(samples.size())) {
        return false;
    }
    const std::uint64_t head = head_.load(std::memory_order_relaxed);
    const std::size_t at = head & mask_;
    const std::size_t first = std::min(samples.size(), slots_.size() - at);
    std::copy_n(samples.begin(), first, slots_.begin() + static_cast<std::ptrdiff_t>(at));
    std::copy(samples.begin() + static_cast<std::ptrdiff_t>(first), samples.end(), slots_.begin());
    head_.store(head + samples.size(), std::memory_order_release);
    return true;
}

std::size_t SampleRing::pop(std::span<float> out) noexcept {
    const std::uint64_t tail = tail_.load(std::memory_order_relaxed);
    const std::uint64_t waiting = head_.load(std::memory_order_acquire) - tail;
    const std::size_t count = std::min<std::size_t>(out.size(), waiting);
    const std::size_t at = tail & mask_;
    const std::size_t first = std::min(count, slots_.size() - at);
    std::copy_n(slots_.begin() + static_cast<std::ptrdiff_t>(at), first, out.begin());
    std::copy_n(slots_.begin(), count - first, out.begin() + static_cast<std::ptrdiff_t>(first));
    tail_.store(tail + count, std::memory_order_release);
    return count;
}

} // namespace retap::audio
