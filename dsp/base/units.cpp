#include "dsp/base/units.hpp"

#include <cassert>
#include <cmath>

namespace retap::dsp {

SampleRate::SampleRate(double hz) : hz_(hz) {
    assert(std::isfinite(hz) && hz > 0.0);
}

Level Level::from_amplitude(double ratio) {
    return from_power(ratio * ratio);
}

Level Level::from_power(double ratio) {
    constexpr double silence = 1e-30; // -300 dB: far below what 24 bits or float samples can hold
    return Level(10.0 * std::log10(ratio > silence ? ratio : silence));
}

double Level::amplitude() const {
    return std::pow(10.0, db_ / 20.0);
}

double Level::power() const {
    return std::pow(10.0, db_ / 10.0);
}

} // namespace retap::dsp
