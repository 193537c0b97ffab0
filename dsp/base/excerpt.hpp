// The sound around one tap, from the moment it is cut out of the recording.
#pragma once

#include "dsp/base/tap_sound.hpp"

#include <array>
#include <cstddef>
#include <initializer_list>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace retap::dsp {

/// Samples that no longer change, so that copies may share them: a take is copied without its sound being copied.
class SharedSamples {
public:
    SharedSamples() = default;
    SharedSamples(std::vector<float> samples) // NOLINT(google-explicit-constructor): a vector of samples is just that
        : samples_(std::make_shared<const std::vector<float>>(std::move(samples))) {}
    SharedSamples(std::initializer_list<float> samples) : SharedSamples(std::vector<float>(samples)) {}

    [[nodiscard]] const std::vector<float>& all() const {
        static const std::vector<float> none;
        return samples_ ? *samples_ : none;
    }
    operator const std::vector<float>&() const { return all(); } // NOLINT(google-explicit-constructor)
    [[nodiscard]] bool empty() const { return all().empty(); }
    [[nodiscard]] std::size_t size() const { return all().size(); }
    [[nodiscard]] const float* data() const { return all().data(); }
    [[nodiscard]] auto begin() const { return all().begin(); }
    [[nodiscard]] auto end() const { return all().end(); }
    [[nodiscard]] float operator[](std::size_t i) const { return all()[i]; }
    [[nodiscard]] bool operator==(const SharedSamples& other) const { return all() == other.all(); }

private:
    std::shared_ptr<const std::vector<float>> samples_;
};

/// The samples kept around a tap, for measuring, overlays, kernels and playback: as recorded until the tap has been
/// measured, from then on with its offset removed. Not filtered.
struct Excerpt {
    SharedSamples samples;                ///< one channel, or the mean of two
    std::array<SharedSamples, 2> sides{}; ///< left and right; both empty for one channel
    double onset_index = 0.0;             ///< where the tap's onset falls in each of them; may lie between two samples

    /// As the methods see it that look at all taps together. Valid as long as this excerpt, or a copy of it, is there.
    [[nodiscard]] TapSound mono() const { return {.samples = samples.all(), .onset = Position(onset_index)}; }
};

} // namespace retap::dsp
