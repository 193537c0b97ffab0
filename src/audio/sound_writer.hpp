// Writes sound files, whole or not at all.
#pragma once

#include "aside_file.hpp"
#include "audio/sound_file.hpp"

#include <cstddef>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace retap::audio {

enum class SoundFormat {
    wav_24,   ///< WAV, 24-bit integers
    flac_24,  ///< FLAC, 24-bit integers
    wav_float ///< WAV, 32-bit float: the samples as they are
};

/// libsndfile writes longer ones into a WAV, but does not read them back (found by trial, 1.2.0: 2040 pass).
inline constexpr std::size_t max_comment_bytes = 2000;

/// Writes aside and moves into place by commit(), after everything has reached the disk; without commit() nothing
/// remains. The integer formats round to 2^-23 of full scale and hold samples beyond full scale at its edge; they never
/// wrap round. Throws InputError when the place cannot be written to, the disk is full, or a WAV would pass 4 GB.
class SoundWriter {
public:
    /// Rate in whole hertz, 1 to 8 channels (asserted).
    SoundWriter(const std::filesystem::path& destination, double sample_rate_hz, int channels, SoundFormat format);
    ~SoundWriter();
    SoundWriter(SoundWriter&&) noexcept;
    SoundWriter& operator=(SoundWriter&&) noexcept;

    /// A text that travels inside the file, in the place the format has for comments. Before the first write(); at most
    /// max_comment_bytes (asserted).
    void set_comment(const std::string& text);
    /// A whole number of frames (asserted).
    void write(std::span<const float> interleaved);
    /// Call once; nothing may be written after it.
    void commit(Existing existing = Existing::replace);

private:
    struct State;
    std::unique_ptr<State> state_;
};

void write_sound(const std::filesystem::path& destination, const Sound& sound, SoundFormat format);

/// The bytes that write_sound would have put into the file; for takes kept inside something else.
[[nodiscard]] std::vector<std::byte> encode_sound(const Sound& sound, SoundFormat format);

/// By extension (.wav, .flac, in any case). Throws UsageError for any other.
[[nodiscard]] SoundFormat format_for(const std::filesystem::path& destination);

} // namespace retap::audio
