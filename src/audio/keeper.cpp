#include "audio/keeper.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>

namespace retap::audio {

Keeper::Keeper(StreamFormat format, KeeperSettings settings, KeptSound& out)
    : format_(format), settings_(settings), out_(out),
      keep_until_(settings.keep_all ? std::numeric_limits<std::uint64_t>::max() : 0) {}

void Keeper::block(std::span<const float> interleaved) {
    const auto channels = static_cast<std::size_t>(format_.channels);
    assert(interleaved.size() % channels == 0);
    held_.insert(held_.end(), interleaved.begin(), interleaved.end());
    position_ += interleaved.size() / channels;
    pass_held(held_from_, keep_until_);
    const std::uint64_t horizon = frames_of(settings_.before_s + settings_.decision_s);
    // Forgetting moves everything that is held, so it is done now and then only.
    if (position_ - held_from_ > horizon + horizon / 4) {
        forget_before(position_ - horizon);
    }
}

void Keeper::gap(std::uint64_t lost_frames) {
    if (position_ < keep_until_) {
        out_.gap(position_, lost_frames);
    } else {
        held_gaps_.push_back({.position = position_, .lost_frames = lost_frames});
    }
}

void Keeper::tap_at(double onset_s) {
    if (settings_.keep_all) {
        return;
    }
    const std::uint64_t onset = frames_of(onset_s);
    const std::uint64_t before = frames_of(settings_.before_s);
    keep_until_ = std::max(keep_until_, onset + frames_of(settings_.after_s));
    pass_held(onset - std::min(onset, before), keep_until_);
}

void Keeper::rise_at(double onset_s) {
    if (settings_.keep_all) {
        return;
    }
    keep_until_ = std::max(keep_until_, frames_of(onset_s) + frames_of(settings_.after_s));
    pass_held(held_from_, keep_until_);
}

void Keeper::pass_held(std::uint64_t from, std::uint64_t to) {
    const std::uint64_t begin = std::max(from, held_from_);
    const std::uint64_t end = std::min(to, position_);
    if (begin >= end) {
        return;
    }
    const auto channels = static_cast<std::size_t>(format_.channels);
    const auto pass = [&](std::uint64_t part_from, std::uint64_t part_to) {
        if (part_from < part_to) {
            const auto first = static_cast<std::size_t>(part_from - held_from_) * channels;
            const auto count = static_cast<std::size_t>(part_to - part_from) * channels;
            out_.samples(part_from, std::span<const float>(held_).subspan(first, count));
        }
    };
    std::uint64_t at = begin;
    for (const HeldGap& gap : held_gaps_) {
        if (gap.position >= begin && gap.position < end) {
            pass(at, gap.position);
            out_.gap(gap.position, gap.lost_frames);
            at = gap.position;
        }
    }
    pass(at, end);
    forget_before(end);
}

void Keeper::forget_before(std::uint64_t position) {
    const auto frames = static_cast<std::ptrdiff_t>(position - held_from_);
    held_.erase(held_.begin(), held_.begin() + frames * format_.channels);
    held_from_ = position;
    std::erase_if(held_gaps_, [&](const HeldGap& gap) { return gap.position < position; });
}

std::uint64_t Keeper::frames_of(double seconds) const {
    return static_cast<std::uint64_t>(std::llround(seconds * format_.sample_rate_hz));
}

} // namespace retap::audio
