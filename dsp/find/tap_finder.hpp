// Finds taps, and only taps, in sound fed in blocks of any size.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"
#include "dsp/find/event_detector.hpp"
#include "dsp/find/event_shape.hpp"
#include "dsp/find/tap_rules.hpp"

#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

struct FindSettings {
    EventDetector::Settings events; ///< what stands out at all
    TapLimits tap;                  ///< and what of it may be a tap
};

/// Something that stood out of the noise: a tap, or an event turned down with the reason.
struct FoundEvent {
    Position onset;
    bool is_tap = true;          ///< judged by itself; the run it belongs to has the last word (tap_run)
    bool could_be_tap = true;    ///< it may be one in a run of its like, even if it does not convince by itself
    std::optional<NoTap> reason; ///< why it was turned down; none for a tap
    EventShape shape;
};

/// Running levels, for fitness and for the live meter.
struct ListeningLevels {
    Level noise{-300.0}; ///< RMS between events in the analysis band, re full scale
    Level peak{-300.0};  ///< largest sample of the last 50 ms, re full scale
};

/// Feed mono samples at `rate` (8 kHz or more) in blocks of any size; events come out as soon as they are settled, the
/// same whatever the block sizes (tested). Memory does not grow with the length of the recording.
class TapFinder {
public:
    TapFinder(SampleRate rate, const FindSettings& settings);
    ~TapFinder();
    TapFinder(TapFinder&&) noexcept;
    TapFinder& operator=(TapFinder&&) noexcept;

    /// Consumes a block; returns the events settled by it, by time. An event is settled within settling_time() of its
    /// onset.
    std::vector<FoundEvent> feed(std::span<const float> block);
    /// The events still open when the recording ends.
    std::vector<FoundEvent> finish();

    [[nodiscard]] static double settling_time_s();
    [[nodiscard]] ListeningLevels levels() const;

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::dsp
