#include "dsp/stream/recent_sound.hpp"

#include <algorithm>
#include <cassert>

namespace retap::dsp {

void RecentSound::push(std::span<const float> block) {
    const std::int64_t kept = std::ssize(samples_) / 2;
    assert(std::ssize(block) <= kept);
    if (end_ - begin_ + std::ssize(block) > std::ssize(samples_)) { // let go in large pieces: moving costs little then
        const std::int64_t keep = std::min(end_ - begin_, kept);
        std::copy(samples_.begin() + (end_ - begin_ - keep), samples_.begin() + (end_ - begin_), samples_.begin());
        begin_ = end_ - keep;
    }
    std::ranges::copy(block, samples_.begin() + (end_ - begin_));
    end_ += std::ssize(block);
}

std::span<const float> RecentSound::view(std::int64_t from, std::int64_t to) const {
    from = std::clamp(from, begin_, end_);
    to = std::clamp(to, from, end_);
    return std::span(samples_).subspan(static_cast<std::size_t>(from - begin_), static_cast<std::size_t>(to - from));
}

std::vector<float> RecentSound::cut(std::int64_t from, std::int64_t to) const {
    assert(from <= to);
    std::vector<float> out(static_cast<std::size_t>(to - from), 0.0F);
    if (const std::span<const float> there = view(from, to); !there.empty()) {
        std::ranges::copy(there, out.begin() + (std::max(from, begin_) - from));
    }
    return out;
}

} // namespace retap::dsp
