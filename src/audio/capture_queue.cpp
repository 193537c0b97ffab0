#include "audio/capture_queue.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>

namespace retap::audio {
namespace {

/// One writer each, so a plain load and store is enough; readers may look at any time.
void add(std::atomic<std::uint64_t>& counter, std::uint64_t amount) noexcept {
    counter.store(counter.load(std::memory_order_relaxed) + amount, std::memory_order_relaxed);
}

} // namespace

CaptureQueue::CaptureQueue(StreamFormat format, double seconds)
    : format_(format), ring_(static_cast<std::size_t>(std::ceil(format.sample_rate_hz * seconds)) *
                             static_cast<std::size_t>(format.channels)),
      out_(1024 * static_cast<std::size_t>(format.channels)) {}

void CaptureQueue::push(std::span<const float> interleaved, bool device_lost) noexcept {
    assert(interleaved.size() % static_cast<std::size_t>(format_.channels) == 0);
    const std::uint64_t frames = interleaved.size() / static_cast<std::size_t>(format_.channels);
    add(callbacks_, 1);
    add(frames_, frames);
    if (device_lost) {
        add(device_overflows_, 1);
        gap_open_ = true;
    }
    if (frames == 0) {
        return;
    }
    // The gap goes in before the samples that follow it, so whoever sees those samples sees the gap as well.
    if (!ring_.has_room_for(interleaved.size()) ||
        (gap_open_ && !note_gap({.at_sample = ring_.pushed(), .lost_frames = gap_frames_}))) {
        gap_open_ = true;
        gap_frames_ += frames;
        add(lost_frames_, frames);
        return;
    }
    gap_open_ = false;
    gap_frames_ = 0;
    static_cast<void>(ring_.push(interleaved)); // there is room
}

bool CaptureQueue::note_gap(Gap gap) noexcept {
    const std::uint64_t noted = gaps_noted_.load(std::memory_order_relaxed);
    if (noted - gaps_passed_.load(std::memory_order_acquire) == gaps_.size()) {
        return false;
    }
    gaps_[noted % gaps_.size()] = gap;
    gaps_noted_.store(noted + 1, std::memory_order_release);
    return true;
}

const CaptureQueue::Gap* CaptureQueue::next_gap() const noexcept {
    const std::uint64_t passed = gaps_passed_.load(std::memory_order_relaxed);
    if (passed == gaps_noted_.load(std::memory_order_acquire)) {
        return nullptr;
    }
    return &gaps_[passed % gaps_.size()];
}

std::size_t CaptureQueue::drain(SoundSink& sink) {
    const std::uint64_t end = ring_.pushed();
    std::uint64_t at = ring_.popped();
    const std::uint64_t begin = at;
    while (at < end) {
        const Gap* gap = next_gap();
        if (gap != nullptr && gap->at_sample == at) {
            sink.gap(gap->lost_frames);
            gaps_passed_.store(gaps_passed_.load(std::memory_order_relaxed) + 1, std::memory_order_release);
            gap = next_gap();
        }
        const std::uint64_t stop = gap != nullptr ? std::min(gap->at_sample, end) : end;
        const std::size_t want = std::min<std::size_t>(out_.size(), stop - at);
        const std::size_t got = ring_.pop(std::span(out_).first(want));
        sink.block(std::span<const float>(out_).first(got));
        at += got;
    }
    return (at - begin) / static_cast<std::size_t>(format_.channels);
}

CaptureCounts CaptureQueue::counts() const noexcept {
    return {.callbacks = callbacks_.load(std::memory_order_relaxed),
            .frames = frames_.load(std::memory_order_relaxed),
            .lost_frames = lost_frames_.load(std::memory_order_relaxed),
            .device_overflows = device_overflows_.load(std::memory_order_relaxed)};
}

} // namespace retap::audio
