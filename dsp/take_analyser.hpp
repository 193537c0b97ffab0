// Sound in, TakeAnalysis out: the one entry to the sound stage for files and for live listening alike.
#pragma once

#include "dsp/base/take.hpp"

#include <cstddef>
#include <memory>
#include <optional>
#include <span>

namespace retap::dsp {

/// Feed interleaved samples at analysis_rate_hz in blocks of any size, then finish() once. One or two channels
/// (asserted); with two, left is first, and taps are found and measured on their mean. Faults of the recording are
/// looked for in its own samples, since resampling hides them. Results do not depend on the block sizes (tested).
/// Memory grows by some hundred bytes a tap, not with time.
class TakeAnalyser {
public:
    /// `recorded_rate_hz`: of the recording, before it was brought to the analysis rate. Goes by AnalysisSettings{}.
    explicit TakeAnalyser(int channels, double recorded_rate_hz = analysis_rate_hz);
    TakeAnalyser(int channels, double recorded_rate_hz, const AnalysisSettings& settings);
    ~TakeAnalyser();
    TakeAnalyser(TakeAnalyser&&) noexcept;
    TakeAnalyser& operator=(TakeAnalyser&&) noexcept;

    /// Of a recording at the analysis rate.
    void feed(std::span<const float> interleaved);
    /// Of a recording at another: the next samples as recorded, and what the resampler gave out when it took them in,
    /// which may be less or more. Before note_dropout() and note_pause() all of what it holds must have been fed.
    void feed(std::span<const float> recorded, std::span<const float> resampled);
    /// Counts a gap in the recording at the present position: a tap that spans it is not timed.
    void note_dropout();
    /// The same for a place where sound was left out on purpose: not timed across either, but nothing was lost.
    void note_pause();
    /// Ends the recording and returns everything found. The name, rate, channels and length of the source are the
    /// caller's to correct (duration_s counts what was fed).
    TakeAnalysis finish();

    /// Live view.
    struct Progress {
        std::size_t taps = 0;   ///< believed so far
        std::size_t usable = 0; ///< of these, neither clipped nor across a gap
        double noise_dbfs = -300.0;
        double peak_dbfs = -300.0;          ///< largest sample of the last 50 ms
        std::optional<double> last_tap_s;   ///< onset of the last tap, from the start
        std::optional<double> last_event_s; ///< onset of the last event of any kind
        double loudest_tap_dbfs = -300.0;   ///< peak of the last tap
    };
    [[nodiscard]] Progress progress() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::dsp
