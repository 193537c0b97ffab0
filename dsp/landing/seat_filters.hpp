// How a pick-up that was taken off and put back may hear differently.
#pragma once

#include "dsp/base/units.hpp"

#include <cstddef>
#include <vector>

namespace retap::dsp {

/// Scatter of one seat about the usual one. Figures of an assumed pick-up, not measured on people.
struct SeatScatter {
    double band_db = 1.2;            ///< of each band by itself, since each mode of the skull is met anew ..
    std::size_t bands_an_octave = 3; ///< .. and there are several to an octave
    double tilt_db_per_octave = 1.0; ///< of the whole spectrum about 1 kHz
};

/// Phases (radians, `bins` of them evenly from 0 to half the rate, 3 or more) of `count` filters as they lie
/// between two seats, drawn at random; the same seed gives the same. Minimum phase: what is between tooth and pick-up
/// is near, small and damped. `strength` 1 is the scatter given; 0 no difference.
[[nodiscard]] std::vector<std::vector<float>> draw_seat_phases(std::size_t count, std::size_t bins, SampleRate rate,
                                                               double strength, unsigned seed,
                                                               const SeatScatter& scatter = {});

} // namespace retap::dsp
