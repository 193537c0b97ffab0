#include "dsp/stream/channel_sounds.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace retap::dsp {

ChannelSounds::ChannelSounds(std::size_t channels, std::size_t kept) : sides_(channels, RecentSound(kept)) {
    assert(channels == 1 || channels == 2);
}

std::span<const float> ChannelSounds::push(std::span<const float> interleaved) {
    const std::size_t channels = sides_.size();
    assert(interleaved.size() % channels == 0);
    const std::size_t n = interleaved.size() / channels;
    mono_.assign(n, 0.0F);
    one_side_.resize(n);
    for (std::size_t c = 0; c < channels; ++c) {
        for (std::size_t i = 0; i < n; ++i) {
            one_side_[i] = interleaved[i * channels + c];
            mono_[i] += one_side_[i] / static_cast<float>(channels);
        }
        sides_[c].push(one_side_);
    }
    return mono_;
}

Excerpt ChannelSounds::cut(std::int64_t from, std::int64_t to, double onset) const {
    const double onset_index = onset - static_cast<double>(from);
    std::vector<float> first = sides_.front().cut(from, to);
    if (sides_.size() == 1) {
        return {.samples = std::move(first), .sides = {}, .onset_index = onset_index};
    }
    std::vector<float> second = sides_.back().cut(from, to);
    std::vector<float> mean(first.size());
    std::ranges::transform(first, second, mean.begin(), [](float a, float b) { return 0.5F * (a + b); });
    return {.samples = std::move(mean), .sides = {std::move(first), std::move(second)}, .onset_index = onset_index};
}

} // namespace retap::dsp
