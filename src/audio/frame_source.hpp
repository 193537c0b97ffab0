// Where the samples of a sound file come from, whoever decodes them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

namespace retap::audio {

class FrameSource {
public:
    virtual ~FrameSource() = default;
    [[nodiscard]] virtual int sample_rate_hz() const = 0;
    /// All that the file has.
    [[nodiscard]] virtual int channels() const = 0;
    /// As far as the file says; nothing short of decoding it all may be exact.
    [[nodiscard]] virtual std::int64_t frames() const = 0;
    /// Whether fewer than frames() are no fault.
    [[nodiscard]] virtual bool length_is_a_guess() const = 0;
    /// As SoundReader::codec(), of the file's own format.
    [[nodiscard]] virtual std::string codec() const = 0;
    [[nodiscard]] virtual std::string comment() const = 0;
    /// Fills whole frames of all channels from the current place; returns how many, fewer only at the end. Throws
    /// InputError when the disk fails or the sound is damaged.
    virtual std::size_t read_frames(std::span<float> interleaved) = 0;
};

} // namespace retap::audio
