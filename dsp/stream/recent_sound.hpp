// The last seconds of a recording, so that a tap can be looked at and cut out once it is known to be one.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::dsp {

/// Keeps at least the last `kept` samples of one channel, and at most twice as many, addressed by their number from the
/// start of the recording.
class RecentSound {
public:
    explicit RecentSound(std::size_t kept) : samples_(2 * kept) {}

    /// At most `kept` of them at once (asserted).
    void push(std::span<const float> block);
    /// The oldest sample that is kept.
    [[nodiscard]] std::int64_t begin() const { return begin_; }
    [[nodiscard]] std::int64_t end() const { return end_; }
    /// Samples from..to as far as they are kept; valid until the next push.
    [[nodiscard]] std::span<const float> view(std::int64_t from, std::int64_t to) const;
    /// All samples from..to (asserted in order); what lies before the recording, after its end or is no longer kept
    /// reads as zero.
    [[nodiscard]] std::vector<float> cut(std::int64_t from, std::int64_t to) const;

private:
    std::vector<float> samples_;
    std::int64_t begin_ = 0; ///< number of samples_[0]
    std::int64_t end_ = 0;
};

} // namespace retap::dsp
