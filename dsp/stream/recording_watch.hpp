// Looks for faults in what was recorded, at the rate it was recorded at, for an analysis that runs at another.
#pragma once

#include "dsp/base/units.hpp"
#include "dsp/stream/signal_faults.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// One or two channels, fed interleaved in blocks of any size. Faults are told in samples of the analysis; to which of
/// them a recorded sample belongs follows from the two rates and from where the recording was broken off and went on,
/// to within one sample.
class RecordingWatch {
public:
    RecordingWatch(std::size_t channels, SampleRate recorded, SampleRate analysed);

    void feed(std::span<const float> interleaved);
    /// What is fed from now on begins at this sample of the analysis.
    void go_on_at(Position analysed);

    /// Of all channels: clipped samples and faults added up (runs not in order), the larger silent share of those that
    /// have sound.
    [[nodiscard]] SignalFaults result() const;
    /// The channel without any sound, when the other one has some. An offset that never changes is no sound.
    [[nodiscard]] std::optional<std::size_t> silent_channel() const;
    /// Largest sample so far, or, where that is less, how far the samples of a channel lie apart.
    [[nodiscard]] Level loudest() const;

private:
    struct Piece {
        double recorded = 0.0; ///< sample at which it begins
        double analysed = 0.0; ///< and the same moment in the analysis
    };
    [[nodiscard]] SampleRun in_analysis(const SampleRun& run) const;

    std::size_t channels_;
    double ratio_;
    std::vector<FaultWatch> watches_;
    std::vector<Piece> pieces_;
    std::size_t frames_ = 0;
    std::vector<float> one_side_;
};

} // namespace retap::dsp
