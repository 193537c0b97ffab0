// Sound files: read in blocks, written whole or not at all. libsndfile does the formats.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::audio {

inline constexpr double lowest_rate_hz = 8000.0;
inline constexpr double highest_rate_hz = 192000.0;

/// Which channels of a file to read, counted from 1; one, or two as left and right. None chosen: all of a file that has
/// one or two.
struct ChannelChoice {
    std::vector<int> numbers;
};

/// Reads a sound file in blocks as float, full scale 1, whatever its sample format. Throws InputError with a sentence
/// that names the file, the fault and what to try: missing, a folder, unreadable, empty, not a sound, a header that
/// promises more than there is (WAV, AIFF; FLAC and others when the samples run out), no samples, rates outside 8 to
/// 192 kHz, more than two channels with none chosen, a chosen channel that is not there; while reading, samples that
/// are not numbers or are beyond 100 times full scale. What it cannot see: a compressed stream without a length that
/// was cut off at a block's edge.
class SoundReader {
public:
    explicit SoundReader(const std::filesystem::path& path, const ChannelChoice& choice = {});
    /// Reads a whole sound file held in memory, which must outlive the reader; `name` stands for the path in messages.
    SoundReader(std::span<const std::byte> bytes, const std::string& name);
    ~SoundReader();
    SoundReader(SoundReader&&) noexcept;
    SoundReader& operator=(SoundReader&&) noexcept;

    [[nodiscard]] double sample_rate_hz() const;
    /// As read: the number chosen, or the file's own.
    [[nodiscard]] int channels() const;
    [[nodiscard]] std::int64_t frames() const;
    /// As far as the file says; nothing where only reading it all tells.
    [[nodiscard]] std::optional<double> duration_s() const;
    /// What threw part of the sound away when it was made smaller, as "Vorbis" or "AAC", also on its way into a take
    /// that was kept; empty when nothing did. What it cannot see: such a sound that was saved as WAV by another
    /// program.
    [[nodiscard]] std::string codec() const;
    /// The comment inside the file; empty when there is none. Of a sound that a codec touched a CaptureNote that names
    /// it, so that the knowledge goes where the sound goes.
    [[nodiscard]] std::string comment() const;
    /// Fills `interleaved` (a whole number of frames) from the current place; returns the frames read, 0 at the end.
    std::size_t read(std::span<float> interleaved);

private:
    struct State;
    std::unique_ptr<State> state_;
};

/// A sound held whole.
struct Sound {
    double sample_rate_hz = 0.0;
    int channels = 1;
    std::vector<float> interleaved;
    std::string comment{}; ///< travels inside the file
};

/// Reads all of a file; for takes, which are short. Throws as SoundReader does.
[[nodiscard]] Sound read_sound(const std::filesystem::path& path, const ChannelChoice& choice = {});
/// Also throws InputError, before decoding where the head says so, for more than
/// sixty million samples, ten minutes of two channels at 48 kHz.
[[nodiscard]] Sound read_sound(std::span<const std::byte> bytes, const std::string& name);

} // namespace retap::audio
