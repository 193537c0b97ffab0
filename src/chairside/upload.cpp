#include "chairside/upload.hpp"

#include "audio/sound_file.hpp"
#include "error.hpp"
#include "report/wording.hpp"
#include "visit/take_sounds.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>
#include <span>
#include <utility>

namespace retap::chairside {

namespace {

constexpr double longest_s = 600.0;
constexpr double most_samples = 60e6; // as much at 48 kHz and two channels, a quarter of a gigabyte

[[noreturn]] void refuse_long(const std::string& name) {
    throw InputError("Reading " + name +
                     ": it is longer than ten minutes, or holds as much at its high sample rate. A "
                     "take is some seconds of tapping; cut it first.");
}

/// By what its head says a long recording is refused before any of it is decoded: what is some kilobytes of FLAC can be
/// gigabytes of samples. Block by block, since a head may say nothing or something else.
audio::Sound read_short(std::span<const std::byte> bytes, const std::string& name) {
    audio::SoundReader reader(bytes, name);
    const double most_frames = std::min(longest_s * reader.sample_rate_hz(), most_samples / reader.channels());
    constexpr auto unknown = std::numeric_limits<std::int64_t>::max();
    if (reader.frames() < unknown && static_cast<double>(reader.frames()) > most_frames) {
        refuse_long(name);
    }
    audio::Sound sound{.sample_rate_hz = reader.sample_rate_hz(),
                       .channels = reader.channels(),
                       .interleaved = {},
                       .comment = reader.comment()};
    const auto channels = static_cast<std::size_t>(sound.channels);
    const auto most = static_cast<std::size_t>(most_frames) * channels;
    std::vector<float> block(65536 * channels);
    while (const std::size_t frames = reader.read(block)) {
        sound.interleaved.insert(sound.interleaved.end(), block.begin(),
                                 block.begin() + static_cast<std::ptrdiff_t>(frames * channels));
        if (sound.interleaved.size() > most) {
            refuse_long(name);
        }
    }
    return sound;
}

} // namespace

NewTake uploaded_take(std::string_view name, std::string_view bytes) {
    const std::string label = report::file_label(name.empty() ? "sound file" : name);
    const auto raw = std::as_bytes(std::span(bytes.data(), bytes.size()));
    visit::PreparedTake prepared = visit::prepare_take(read_short(raw, label), label);
    return {.name = label, .flac = std::move(prepared.flac), .analysis = std::move(prepared.analysis)};
}

} // namespace retap::chairside
