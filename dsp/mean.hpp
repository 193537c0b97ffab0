// The mean of samples.
#pragma once

#include <span>

namespace retap::dsp {

/// Summed in double, in which an hour of float samples loses nothing that matters; 0 of none.
[[nodiscard]] inline double mean(std::span<const float> samples) {
    double sum = 0.0;
    for (const float v : samples) {
        sum += static_cast<double>(v);
    }
    return samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
}

} // namespace retap::dsp
