#include "audio/around_taps.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

namespace retap::audio {
namespace {

/// Frames from `begin` up to, not including, `end`.
struct Stretch {
    std::int64_t begin = 0;
    std::int64_t end = 0;
};

std::vector<Stretch> stretches_around(std::span<const double> onsets_s, double rate, std::int64_t frames,
                                      const AroundTapsSettings& settings) {
    std::vector<Stretch> stretches;
    auto room = std::llround(settings.longest_s * rate);
    for (const double onset : onsets_s) {
        const std::int64_t begin = std::max<std::int64_t>(std::llround((onset - settings.margin_s) * rate), 0);
        const std::int64_t end = std::min<std::int64_t>(std::llround((onset + settings.margin_s) * rate), frames);
        const std::int64_t from = stretches.empty() ? begin : std::max(begin, stretches.back().end);
        const std::int64_t added = std::min<std::int64_t>(end - from, room);
        if (added <= 0) {
            continue;
        }
        room -= added;
        if (!stretches.empty() && from == stretches.back().end) {
            stretches.back().end += added;
        } else {
            stretches.push_back({.begin = from, .end = from + added});
        }
    }
    return stretches;
}

void fade_ends(std::span<float> interleaved, std::size_t width, std::int64_t fade_frames) {
    const std::size_t frames = interleaved.size() / width;
    const auto fade = std::min(static_cast<std::size_t>(fade_frames), frames / 2);
    for (std::size_t i = 0; i < fade; ++i) {
        const float gain = static_cast<float>(i) / static_cast<float>(fade);
        for (std::size_t channel = 0; channel < width; ++channel) {
            interleaved[i * width + channel] *= gain;
            interleaved[(frames - 1 - i) * width + channel] *= gain;
        }
    }
}

} // namespace

std::optional<Sound> read_around_taps(const std::filesystem::path& path, std::span<const double> onsets_s,
                                      const ChannelChoice& choice, const AroundTapsSettings& settings) {
    SoundReader reader(path, choice);
    const double rate = reader.sample_rate_hz();
    const auto stretches = stretches_around(onsets_s, rate, reader.frames(), settings);
    if (stretches.empty()) {
        return std::nullopt;
    }
    Sound sound;
    sound.sample_rate_hz = rate;
    sound.channels = reader.channels();
    const auto width = static_cast<std::size_t>(sound.channels);
    constexpr std::size_t block_frames = 16384;
    std::vector<float> block(block_frames * width);
    auto stretch = stretches.begin();
    std::size_t stretch_start = 0;
    std::int64_t place = 0;
    for (std::size_t got = reader.read(block); got > 0 && stretch != stretches.end(); got = reader.read(block)) {
        const std::int64_t block_end = place + static_cast<std::int64_t>(got);
        while (stretch != stretches.end() && stretch->begin < block_end) {
            const auto from = static_cast<std::ptrdiff_t>(std::max(stretch->begin, place) - place);
            const auto to = static_cast<std::ptrdiff_t>(std::min(stretch->end, block_end) - place);
            const auto w = static_cast<std::ptrdiff_t>(width);
            sound.interleaved.insert(sound.interleaved.end(), block.begin() + from * w, block.begin() + to * w);
            if (stretch->end > block_end) {
                break;
            }
            fade_ends(std::span(sound.interleaved).subspan(stretch_start), width, std::llround(settings.fade_s * rate));
            stretch_start = sound.interleaved.size();
            ++stretch;
        }
        place = block_end;
    }
    return sound;
}

} // namespace retap::audio
