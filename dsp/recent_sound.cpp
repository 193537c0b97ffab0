#include "dsp/recent_sound.hpp"

#include <algorithm>
#include <cassert>

namespace retap::dsp {

void RecentSound::push(std::span<const float> block) {
    samples_.insert(samples_.end(), block.begin(), block.end());
    if (samples_.size() > 2 * kept_ + block.size()) { // let go in large pieces, so that moving costs little
        const std::size_t spare = samples_.size() - kept_;
        samples_.erase(samples_.begin(), samples_.begin() + static_cast<std::ptrdiff_t>(spare));
        begin_ += static_cast<std::int64_t>(spare);
    }
}

std::vector<float> RecentSound::cut(std::int64_t from, std::int64_t to) const {
    assert(from <= to);
    std::vector<float> out(static_cast<std::size_t>(to - from), 0.0F);
    const std::int64_t first = std::max(from, begin_);
    const std::int64_t last = std::min(to, end());
    if (first < last) {
        std::copy(samples_.begin() + (first - begin_), samples_.begin() + (last - begin_),
                  out.begin() + (first - from));
    }
    return out;
}

} // namespace retap::dsp
