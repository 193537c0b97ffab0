// Sound at a device's rate, heard by the take analyser.
#pragma once

#include "audio/resample.hpp"
#include "audio/sound_sink.hpp"
#include "dsp/take_analyser.hpp"

#include <cstdint>
#include <span>

namespace retap::audio {

/// Converts to the analysis rate and feeds a TakeAnalyser, which looks for faults in the sound as it came; nothing is
/// filtered or timed across a gap or a pause.
/// Times are those of the sound received, which a gap does not move on.
class TakeListener : public SoundSink {
public:
    explicit TakeListener(StreamFormat format);

    void block(std::span<const float> interleaved) override;
    void gap(std::uint64_t lost_frames) override;
    /// What follows did not follow directly, on purpose.
    void pause();
    [[nodiscard]] dsp::TakeAnalyser::Progress progress() const { return analyser_.progress(); }
    /// Once, at the end. The name of the file is the caller's to fill in.
    [[nodiscard]] dsp::TakeAnalysis finish();

private:
    void break_off();

    StreamFormat format_;
    Resampler resampler_;
    dsp::TakeAnalyser analyser_;
    std::uint64_t frames_ = 0;
};

} // namespace retap::audio
