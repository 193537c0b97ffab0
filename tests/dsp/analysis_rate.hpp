// The rate at which most tests of the DSP stage make their sound: the one that takes are analysed at.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"

namespace retap::test {

inline const dsp::SampleRate analysis_rate(dsp::analysis_rate_hz);

} // namespace retap::test
