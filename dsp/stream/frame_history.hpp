// The last few seconds of band energies, addressed by frame number.
#pragma once

#include <cassert>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace retap::dsp {

/// A ring of frames; each holds one energy per band. Frames are numbered from 0 and only the last `capacity` are kept.
class FrameHistory {
public:
    FrameHistory(std::size_t capacity, std::size_t bands)
        : capacity_(capacity), bands_(bands), data_(capacity * bands) {
        assert(capacity > 0 && bands > 0);
    }

    /// Room for the next frame, to be filled by the caller.
    std::span<double> append() { return row(count_++); }

    [[nodiscard]] std::int64_t end() const { return count_; }
    [[nodiscard]] std::int64_t begin() const {
        return count_ > static_cast<std::int64_t>(capacity_) ? count_ - static_cast<std::int64_t>(capacity_) : 0;
    }
    [[nodiscard]] std::size_t bands() const { return bands_; }
    /// One frame still kept (asserted).
    [[nodiscard]] std::span<const double> operator[](std::int64_t frame) const {
        assert(frame >= begin() && frame < end());
        const auto slot = static_cast<std::size_t>(frame) % capacity_;
        return std::span<const double>(data_).subspan(slot * bands_, bands_);
    }

    /// All that is still kept, in no particular order of frames.
    [[nodiscard]] std::span<const double> kept() const {
        return std::span<const double>(data_).first(static_cast<std::size_t>(end() - begin()) * bands_);
    }

private:
    std::span<double> row(std::int64_t frame) {
        const auto slot = static_cast<std::size_t>(frame) % capacity_;
        return std::span<double>(data_).subspan(slot * bands_, bands_);
    }

    std::size_t capacity_;
    std::size_t bands_;
    std::vector<double> data_;
    std::int64_t count_ = 0;
};

} // namespace retap::dsp
