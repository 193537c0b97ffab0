#include "dsp/stream/channel_sounds.hpp"

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

TapRecording ChannelSounds::cut(std::int64_t from, std::int64_t to, double onset) const {
    TapRecording tap;
    tap.onset_index = onset - static_cast<double>(from);
    if (sides_.size() == 1) {
        tap.mono = sides_.front().cut(from, to);
        return tap;
    }
    for (std::size_t c = 0; c < 2; ++c) {
        tap.sides[c] = sides_[c].cut(from, to);
    }
    tap.mono = tap.sides[0];
    for (std::size_t i = 0; i < tap.mono.size(); ++i) {
        tap.mono[i] = 0.5F * (tap.mono[i] + tap.sides[1][i]);
    }
    return tap;
}

} // namespace retap::dsp
