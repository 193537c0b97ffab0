// Sound files through libsndfile. The only file that knows it is sound_file.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>

namespace retap::audio {

/// Reads a sound file in blocks as float, whatever its sample format. Throws InputError with a sentence that names the
/// file, the fault and what to try: missing, empty, not a sound, truncated, a header that promises more than there is,
/// rates outside 8 to 192 kHz, more than two channels (unless one or two are chosen), NaN or infinite samples.
class SoundReader {
public:
    explicit SoundReader(const std::filesystem::path& path);
    ~SoundReader();
    SoundReader(SoundReader&&) noexcept;
    SoundReader& operator=(SoundReader&&) noexcept;

    [[nodiscard]] double sample_rate_hz() const;
    [[nodiscard]] int channels() const;
    [[nodiscard]] std::int64_t frames() const;
    /// Fills `interleaved` (a whole number of frames) from the current place; returns the frames read, 0 at the end.
    std::size_t read(std::span<float> interleaved);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::audio
