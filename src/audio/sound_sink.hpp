// Where sound goes as it comes. A microphone, a file and a vector all feed this, so that everything behind it can be
// tested without a sound card.
#pragma once

#include <cstdint>
#include <span>

namespace retap::audio {

struct StreamFormat {
    double sample_rate_hz = 48000.0;
    int channels = 1;
};

class SoundSink {
public:
    SoundSink() = default;
    SoundSink(const SoundSink&) = delete;
    SoundSink& operator=(const SoundSink&) = delete;
    virtual ~SoundSink() = default;

    /// The next samples, a whole number of frames, left first. Any block size.
    virtual void block(std::span<const float> interleaved) = 0;
    /// Sound is missing between the block before and the block after. `lost_frames` is 0 when nobody knows how much.
    virtual void gap(std::uint64_t lost_frames) = 0;
};

} // namespace retap::audio
