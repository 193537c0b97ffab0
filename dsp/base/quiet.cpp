#include "dsp/base/quiet.hpp"

namespace retap::dsp {

double mean_square(std::span<const float> samples, double middle) {
    double sum = 0.0;
    for (const float v : samples) {
        sum += (static_cast<double>(v) - middle) * (static_cast<double>(v) - middle);
    }
    return samples.empty() ? 0.0 : sum / static_cast<double>(samples.size());
}

} // namespace retap::dsp
