#include "dsp/base/gaussian_kernel.hpp"

#include <cassert>
#include <cmath>
#include <cstddef>

namespace retap::dsp {

std::vector<float> half_gaussian(double sigma) {
    assert(sigma > 0.0);
    std::vector<float> side(static_cast<std::size_t>(std::ceil(3.0 * sigma)) + 1);
    double sum = 0.0;
    for (std::size_t i = 0; i < side.size(); ++i) {
        const double z = static_cast<double>(i) / sigma;
        side[i] = static_cast<float>(std::exp(-0.5 * z * z));
        sum += static_cast<double>(side[i]) * (i == 0 ? 1.0 : 2.0);
    }
    for (float& v : side) {
        v = static_cast<float>(static_cast<double>(v) / sum);
    }
    return side;
}

} // namespace retap::dsp
