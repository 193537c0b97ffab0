// One tap as it was recorded.
#pragma once

#include <array>
#include <vector>

namespace retap::dsp {

/// A tap's sound, cut out of the recording: the mean of the channels, and each channel where there are two.
struct TapRecording {
    std::vector<float> mono;
    std::array<std::vector<float>, 2> sides; ///< both empty for one channel
    double onset_index = 0.0;                ///< of the tap's onset in each of them
};

} // namespace retap::dsp
