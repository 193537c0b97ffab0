// The room in which somebody taps.
#pragma once

#include <cstdint>
#include <span>

namespace retap::bite {

/// A tail of many echoes that dies away by itself. A pick-up on the skin hears little of it.
struct Room {
    double level_db = -30.0;       ///< energy of the tail relative to the energy of the sound
    double reverberation_s = 0.45; ///< to -60 dB at mid frequencies; 0.3 to 0.6 in a treatment room (M)
    double delay_s = 0.006;        ///< before the first echo
    std::uint64_t seed = 1;
};

/// Adds the room's answer to what is in `sound`. Feedback delay network after Jot and Chaigne 1991 (AES 90th,
/// structure; M): eight lines of 9 to 31 ms, a Householder mixing matrix, high frequencies dying twice as fast. Nothing
/// is added before delay_s.
void add_room(std::span<double> sound, double rate_hz, const Room& room);

} // namespace retap::bite
