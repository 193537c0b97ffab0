#include "audio/inspect_file.hpp"

#include "audio/joined_sound.hpp"
#include "audio/take_listener.hpp"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

namespace retap::audio {
namespace {

constexpr std::size_t block_frames = 16384;

dsp::TakeAnalysis finish(JoinedSound& sound, TakeListener& listener, const std::string& name) {
    sound.finish();
    dsp::TakeAnalysis take = listener.finish();
    take.file = name;
    return take;
}

} // namespace

dsp::TakeAnalysis inspect_file(const std::filesystem::path& path, const ChannelChoice& choice) {
    SoundReader reader(path, choice);
    TakeListener listener({.sample_rate_hz = reader.sample_rate_hz(), .channels = reader.channels()});
    JoinedSound sound(listener, reader.channels(), reader.comment());
    const auto width = static_cast<std::size_t>(reader.channels());
    std::vector<float> block(block_frames * width);
    for (std::size_t got = reader.read(block); got > 0; got = reader.read(block)) {
        sound.feed(std::span(block).first(got * width));
    }
    return finish(sound, listener, path.string());
}

dsp::TakeAnalysis inspect_sound(const Sound& sound, const std::string& name) {
    assert(sound.channels == 1 || sound.channels == 2);
    TakeListener listener({.sample_rate_hz = sound.sample_rate_hz, .channels = sound.channels});
    JoinedSound joined(listener, sound.channels, sound.comment);
    const auto width = static_cast<std::size_t>(sound.channels);
    const std::span<const float> all(sound.interleaved);
    for (std::size_t at = 0; at < all.size(); at += block_frames * width) {
        joined.feed(all.subspan(at, std::min(block_frames * width, all.size() - at)));
    }
    return finish(joined, listener, name);
}

} // namespace retap::audio
