// The last seconds of every channel of a recording, so that taps can be cut out of all of them alike.
#pragma once

#include "dsp/base/excerpt.hpp"
#include "dsp/stream/recent_sound.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::dsp {

/// One or two channels (asserted), of which at least the last `kept` samples stay at hand; with two, left is first.
class ChannelSounds {
public:
    ChannelSounds(std::size_t channels, std::size_t kept);

    [[nodiscard]] std::size_t channels() const { return sides_.size(); }
    /// Samples of one channel so far.
    [[nodiscard]] std::int64_t end() const { return sides_.front().end(); }

    /// Takes in interleaved samples, whole frames and at most `kept` of them at once (asserted), and returns the mean
    /// of the channels: valid until the next call.
    std::span<const float> push(std::span<const float> interleaved);

    /// The samples from..to, counted from the start of the recording; what was not there or is no longer kept reads as
    /// zero. The tap begins `onset` samples after the start of the recording.
    [[nodiscard]] Excerpt cut(std::int64_t from, std::int64_t to, double onset) const;

private:
    std::vector<RecentSound> sides_;
    std::vector<float> mono_;
    std::vector<float> one_side_;
};

} // namespace retap::dsp
