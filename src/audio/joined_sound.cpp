#include "audio/joined_sound.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <utility>

namespace retap::audio {

JoinedSound::JoinedSound(TakeListener& listener, int channels, std::string_view comment)
    : listener_(listener), channels_(static_cast<std::size_t>(channels)) {
    if (auto note = read_note(comment)) {
        joins_ = std::move(note->joins);
        left_out_ = note->joins_left_out;
    }
}

void JoinedSound::feed(std::span<const float> interleaved) {
    while (!interleaved.empty()) {
        for (; next_ < joins_.size() && joins_[next_].at_frame <= frame_; ++next_) {
            if (joins_[next_].kind == Join::Kind::gap) {
                listener_.gap(joins_[next_].missing_frames);
            } else {
                listener_.pause();
            }
        }
        const std::uint64_t frames = interleaved.size() / channels_;
        const std::uint64_t until_join = next_ < joins_.size() ? joins_[next_].at_frame - frame_ : frames;
        const auto part = interleaved.first(static_cast<std::size_t>(std::min(frames, until_join)) * channels_);
        listener_.block(part);
        frame_ += part.size() / channels_;
        interleaved = interleaved.subspan(part.size());
    }
}

void JoinedSound::finish() {
    constexpr std::uint64_t enough = 1000; // the count comes from a file, which may be damaged
    for (std::uint64_t i = 0; i < std::min(left_out_, enough); ++i) {
        listener_.gap(0);
    }
}

} // namespace retap::audio
