#include "audio/inspect_file.hpp"

#include "audio/capture_note.hpp"
#include "audio/take_listener.hpp"

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

constexpr std::size_t look_frames = 16384;

std::string codec_caution(const std::string& codec) {
    return "The sound was made smaller with " + codec +
           ", which leaves out what is hard to hear and smears the start of a tap. Save takes as WAV or FLAC if you "
           "can, "
           "before and after alike.";
}

/// Sound in, the analysis out, with nothing timed across the places that its capture noted.
class Inspection {
public:
    Inspection(StreamFormat format, const std::string& comment) : format_(format), listener_(format) {
        if (const auto note = read_note(comment)) {
            joins_ = note->joins;
            device_ = note->device;
            recorded_on_ = note->started;
            codec_ = note->codec;
        }
    }

    void feed(std::span<const float> interleaved) {
        const auto channels = static_cast<std::size_t>(format_.channels);
        while (!interleaved.empty()) {
            std::size_t frames = interleaved.size() / channels;
            for (; passed_ < joins_.size() && joins_[passed_].at_frame <= frames_; ++passed_) {
                break_off(joins_[passed_]);
            }
            if (passed_ < joins_.size()) {
                frames = std::min<std::uint64_t>(frames, joins_[passed_].at_frame - frames_);
            }
            listener_.block(interleaved.first(frames * channels));
            interleaved = interleaved.subspan(frames * channels);
            frames_ += frames;
        }
    }

    dsp::TakeAnalysis finish(const std::string& name) {
        dsp::TakeAnalysis take = listener_.finish();
        take.file = name;
        take.device = device_;
        take.recorded_on = recorded_on_;
        if (!codec_.empty()) {
            take.fitness.cautions.push_back(codec_caution(codec_));
        }
        return take;
    }

private:
    void break_off(const Join& join) {
        if (join.kind == Join::Kind::gap) {
            listener_.gap(join.missing_frames);
        } else {
            listener_.pause();
        }
    }

    StreamFormat format_;
    std::string codec_;
    TakeListener listener_;
    std::vector<Join> joins_;
    std::string device_;
    std::string recorded_on_;
    std::size_t passed_ = 0;
    std::uint64_t frames_ = 0;
};

} // namespace

dsp::TakeAnalysis inspect_file(const std::filesystem::path& path, const ChannelChoice& choice,
                               const InspectProgress& progress) {
    SoundReader reader(path, choice);
    Inspection inspection({.sample_rate_hz = reader.sample_rate_hz(), .channels = reader.channels()}, reader.comment());
    const auto width = static_cast<std::size_t>(reader.channels());
    std::vector<float> block(look_frames * width);
    double done = 0.0;
    for (std::size_t got = reader.read(block); got > 0; got = reader.read(block)) {
        inspection.feed(std::span(block).first(got * width));
        done += static_cast<double>(got);
        if (progress) {
            progress(done / reader.sample_rate_hz(), reader.duration_s().value_or(0.0));
        }
    }
    return inspection.finish(path.string());
}

dsp::TakeAnalysis inspect_sound(const Sound& sound, const std::string& name) {
    assert(sound.channels == 1 || sound.channels == 2);
    Inspection inspection({.sample_rate_hz = sound.sample_rate_hz, .channels = sound.channels}, sound.comment);
    const auto width = static_cast<std::size_t>(sound.channels);
    const std::span<const float> all(sound.interleaved);
    for (std::size_t at = 0; at < all.size(); at += look_frames * width) {
        inspection.feed(all.subspan(at, std::min(look_frames * width, all.size() - at)));
    }
    return inspection.finish(name);
}

} // namespace retap::audio
