#include "audio/around_taps.hpp"

#include "audio/capture_note.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <vector>

namespace retap::audio {
namespace {

/// Frames from `begin` up to, not including, `end`.
struct KeptStretch {
    std::int64_t begin = 0;
    std::int64_t end = 0;
};

std::vector<KeptStretch> stretches_around(std::span<const double> onsets_s, double rate, std::int64_t frames,
                                          const AroundTapsSettings& settings) {
    std::vector<KeptStretch> stretches;
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

/// Where moments meet in what is kept that did not follow each other: at the cuts, and where the recording itself says
/// so. `frames` are those of the recording.
std::vector<Join> joins_of_kept(const std::vector<KeptStretch>& stretches, const std::vector<Join>& recorded) {
    std::vector<Join> joins;
    std::int64_t kept = 0;
    std::int64_t end_before = 0;
    for (const KeptStretch& stretch : stretches) {
        if (kept > 0) {
            joins.push_back({.at_frame = static_cast<std::uint64_t>(kept),
                             .kind = Join::Kind::pause,
                             .missing_frames = static_cast<std::uint64_t>(stretch.begin - end_before)});
        }
        for (const Join& join : recorded) {
            const auto at = static_cast<std::int64_t>(join.at_frame);
            if (at > stretch.begin && at < stretch.end) {
                joins.push_back({.at_frame = static_cast<std::uint64_t>(kept + at - stretch.begin),
                                 .kind = join.kind,
                                 .missing_frames = join.missing_frames});
            }
        }
        kept += stretch.end - stretch.begin;
        end_before = stretch.end;
    }
    return joins;
}

/// What the recording says about itself, for the part that is kept. Any other comment may hold anything and stays
/// behind.
std::string note_of_kept(const std::vector<KeptStretch>& stretches, const std::string& comment) {
    const auto recorded = read_note(comment);
    CaptureNote note = recorded.value_or(CaptureNote{});
    note.joins = joins_of_kept(stretches, note.joins);
    note.kept_everything = false;
    return recorded || !note.joins.empty() ? write_note(note) : std::string();
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

std::optional<Sound> around_taps(const Sound& sound, std::span<const double> onsets_s,
                                 const AroundTapsSettings& settings) {
    const auto width = static_cast<std::size_t>(sound.channels);
    const auto frames = static_cast<std::int64_t>(sound.interleaved.size() / width);
    const auto stretches = stretches_around(onsets_s, sound.sample_rate_hz, frames, settings);
    if (stretches.empty()) {
        return std::nullopt;
    }
    Sound kept{.sample_rate_hz = sound.sample_rate_hz,
               .channels = sound.channels,
               .interleaved = {},
               .comment = note_of_kept(stretches, sound.comment)};
    for (const KeptStretch& stretch : stretches) {
        const std::size_t start = kept.interleaved.size();
        const auto part = std::span(sound.interleaved)
                              .subspan(static_cast<std::size_t>(stretch.begin) * width,
                                       static_cast<std::size_t>(stretch.end - stretch.begin) * width);
        kept.interleaved.insert(kept.interleaved.end(), part.begin(), part.end());
        fade_ends(std::span(kept.interleaved).subspan(start), width,
                  std::llround(settings.fade_s * sound.sample_rate_hz));
    }
    return kept;
}

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
    sound.comment = note_of_kept(stretches, reader.comment());
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
