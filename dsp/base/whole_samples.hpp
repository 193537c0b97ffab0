// Stretches of time as numbers of samples to count with.
#pragma once

#include "dsp/base/units.hpp"

#include <cmath>
#include <cstddef>

namespace retap::dsp {

/// The nearest whole number of samples in `ms`, which is 0 or more.
[[nodiscard]] inline std::size_t whole_samples(double ms, SampleRate rate) {
    return static_cast<std::size_t>(std::lround(Length::from_ms(ms, rate).samples()));
}

} // namespace retap::dsp
