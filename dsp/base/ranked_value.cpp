#include "dsp/base/ranked_value.hpp"

#include <algorithm>
#include <cassert>

namespace retap::dsp {

double RankedValue::find(std::span<const double> values, std::size_t rank, double guess) {
    assert(rank < values.size());
    near_.resize(std::max(near_.size(), values.size()));
    const double low = 0.9 * guess;
    const double high = 1.1 * guess;
    std::size_t below = 0;
    std::size_t count = 0;
    for (const double v : values) { // without branches: which way each value goes cannot be foreseen
        near_[count] = v;
        count += static_cast<std::size_t>(v >= low) & static_cast<std::size_t>(v <= high);
        below += static_cast<std::size_t>(v < low);
    }
    if (rank < below || rank >= below + count) {
        std::ranges::copy(values, near_.begin());
        below = 0;
        count = values.size();
    }
    const auto nth = near_.begin() + static_cast<std::ptrdiff_t>(rank - below);
    std::nth_element(near_.begin(), nth, near_.begin() + static_cast<std::ptrdiff_t>(count));
    return *nth;
}

} // namespace retap::dsp
