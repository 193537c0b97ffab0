// The last seconds of a recording, so that a tap can be cut out once it is known to be one.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::dsp {

/// Keeps at least the last `kept` samples of one channel, addressed by their number from the start of the recording.
class RecentSound {
public:
    explicit RecentSound(std::size_t kept) : kept_(kept) {}

    void push(std::span<const float> block);
    [[nodiscard]] std::int64_t end() const { return begin_ + static_cast<std::int64_t>(samples_.size()); }
    /// Samples from..to; what lies before the recording, after its end or is no longer kept reads as zero.
    [[nodiscard]] std::vector<float> cut(std::int64_t from, std::int64_t to) const;

private:
    std::size_t kept_;
    std::int64_t begin_ = 0; ///< number of samples_[0]
    std::vector<float> samples_;
};

} // namespace retap::dsp
