#include "audio/inspect_file.hpp"

#include "audio/resample.hpp"
#include "dsp/take_analyser.hpp"

#include <algorithm>
#include <cassert>
#include <vector>

namespace retap::audio {
namespace {

constexpr std::size_t block_frames = 16384;

/// Rate conversion and analysis in one: samples at any rate in, the analysis out.
class Inspection {
public:
    Inspection(double sample_rate_hz, int channels)
        : sample_rate_hz_(sample_rate_hz), channels_(channels),
          resampler_(channels, sample_rate_hz, dsp::analysis_rate_hz), analyser_(channels) {}

    void feed(std::span<const float> interleaved) { analyser_.feed(resampler_.process(interleaved)); }

    dsp::TakeAnalysis finish(const std::string& name, std::int64_t frames) {
        analyser_.feed(resampler_.finish());
        dsp::TakeAnalysis take = analyser_.finish();
        take.file = name;
        take.sample_rate_hz = sample_rate_hz_;
        take.channels = channels_;
        take.duration_s = static_cast<double>(frames) / sample_rate_hz_;
        return take;
    }

private:
    double sample_rate_hz_;
    int channels_;
    Resampler resampler_;
    dsp::TakeAnalyser analyser_;
};

} // namespace

dsp::TakeAnalysis inspect_file(const std::filesystem::path& path, const ChannelChoice& choice) {
    SoundReader reader(path, choice);
    Inspection inspection(reader.sample_rate_hz(), reader.channels());
    const auto width = static_cast<std::size_t>(reader.channels());
    std::vector<float> block(block_frames * width);
    std::int64_t frames = 0;
    for (std::size_t got = reader.read(block); got > 0; got = reader.read(block)) {
        inspection.feed(std::span(block).first(got * width));
        frames += static_cast<std::int64_t>(got);
    }
    return inspection.finish(path.string(), frames);
}

dsp::TakeAnalysis inspect_sound(const Sound& sound, const std::string& name) {
    assert(sound.channels == 1 || sound.channels == 2);
    Inspection inspection(sound.sample_rate_hz, sound.channels);
    const auto width = static_cast<std::size_t>(sound.channels);
    const std::span<const float> all(sound.interleaved);
    for (std::size_t at = 0; at < all.size(); at += block_frames * width) {
        inspection.feed(all.subspan(at, std::min(block_frames * width, all.size() - at)));
    }
    return inspection.finish(name, static_cast<std::int64_t>(all.size() / width));
}

} // namespace retap::audio
