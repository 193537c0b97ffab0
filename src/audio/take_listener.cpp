#include "audio/take_listener.hpp"

#include <cstdint>
#include <span>
#include <utility>

namespace retap::audio {

TakeListener::TakeListener(StreamFormat format)
    : format_(format), resampler_(format.channels, format.sample_rate_hz, dsp::analysis_rate_hz),
      analyser_(format.channels, format.sample_rate_hz) {}

void TakeListener::block(std::span<const float> interleaved) {
    frames_ += interleaved.size() / static_cast<std::size_t>(format_.channels);
    analyser_.feed(interleaved, resampler_.process(interleaved));
}

void TakeListener::gap(std::uint64_t /*lost_frames*/) {
    break_off();
    analyser_.note_dropout();
}

void TakeListener::pause() {
    break_off();
    analyser_.note_pause();
}

void TakeListener::break_off() {
    analyser_.feed({}, resampler_.finish());
    resampler_ = Resampler(format_.channels, format_.sample_rate_hz, dsp::analysis_rate_hz);
}

dsp::TakeAnalysis TakeListener::finish() {
    analyser_.feed({}, resampler_.finish());
    dsp::TakeAnalysis take = analyser_.finish();
    take.sample_rate_hz = format_.sample_rate_hz;
    take.channels = format_.channels;
    take.duration_s = static_cast<double>(frames_) / format_.sample_rate_hz;
    return take;
}

} // namespace retap::audio
