// The phase that goes with a magnitude when nothing rings longer than it must.
#pragma once

#include <span>
#include <vector>

namespace retap::dsp {

/// Phase (radians) of the minimum-phase filter with these natural logarithms of magnitude, both at frequencies evenly
/// from 0 to half the rate; 3 or more (asserted).
///
/// Method: the cepstrum folded onto positive times (Oppenheim AV, Schafer RW, Discrete-Time Signal Processing; from
/// memory). Fails by aliasing where the magnitude moves faster than the frequencies are close.
[[nodiscard]] std::vector<float> minimum_phase(std::span<const double> log_magnitude);

} // namespace retap::dsp
