// Sound in, TakeAnalysis out: the one entry to the sound stage for files and for live listening alike.
#pragma once

#include "dsp/take.hpp"

#include <memory>
#include <span>
#include <string>

namespace retap::dsp {

/// Feed interleaved samples at analysis_rate_hz in blocks of any size, then finish() once. One or two channels
/// (asserted); with two, left is first. Results do not depend on the block sizes. Memory grows with the number of taps
/// kept, not with time.
class TakeAnalyser {
public:
    explicit TakeAnalyser(int channels);
    ~TakeAnalyser();
    TakeAnalyser(TakeAnalyser&&) noexcept;
    TakeAnalyser& operator=(TakeAnalyser&&) noexcept;

    void feed(std::span<const float> interleaved);
    /// Counts a gap in the recording at the present position: no tap is timed across it.
    void note_dropout();
    /// The same for a place where sound was left out on purpose: not timed across either, but nothing was lost.
    void note_pause();
    /// Ends the recording and returns everything found. file, sample_rate_hz and channels of the source are the
    /// caller's to fill in.
    TakeAnalysis finish();

    /// Live view: taps believed so far, how many of them are usable, noise and recent peak level (dBFS).
    struct Progress {
        std::size_t taps = 0;
        std::size_t usable = 0;
        double noise_dbfs = -300.0;
        double peak_dbfs = -300.0;
        double last_tap_s = -1.0;   ///< onset of the last tap, seconds from the start; negative before the first
        double last_event_s = -1.0; ///< onset of the last event of any kind; negative before the first
    };
    [[nodiscard]] Progress progress() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::dsp
