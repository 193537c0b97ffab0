// What else is heard in an operatory while somebody taps. Invented sounds with the right bands and rhythms; none is a
// recording of anything.
#pragma once

#include "bite/random.hpp"

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

namespace retap::bite {

enum class ClinicSoundKind : std::uint8_t {
    suction,   ///< turbulent hiss of a tube that gurgles
    handpiece, ///< a turbine's whine near 5 kHz, wandering, with its overtones and its air
    hum,       ///< mains, 50 or 60 Hz by seed, with overtones
    clunks,    ///< instruments put down on a tray
    speech     ///< babble: voiced and breathed syllables without words
};

struct ClinicSound {
    ClinicSoundKind kind = ClinicSoundKind::suction;
    double level_db = -30.0; ///< RMS while it sounds (clunks: peak), relative to the peak of the usual tap
    double from_s = 0.0;
    double to_s = std::numeric_limits<double>::infinity(); ///< the take's end at the latest
    std::uint64_t seed = 1;
};

/// The sound alone, `length` samples long, silent outside from_s and to_s, scaled so that an RMS (clunks: peak) of 1 is
/// 0 dB, then by level_db. Bands at or above 0.45 of the rate are left out.
[[nodiscard]] std::vector<double> make_clinic_sound(const ClinicSound& sound, std::size_t length, double rate_hz);

/// The generators, unscaled. Each fills `length` samples.
namespace clinic {
[[nodiscard]] std::vector<double> suction(std::size_t length, double rate_hz, Random& random);
[[nodiscard]] std::vector<double> handpiece(std::size_t length, double rate_hz, Random& random);
[[nodiscard]] std::vector<double> hum(std::size_t length, double rate_hz, Random& random);
[[nodiscard]] std::vector<double> clunks(std::size_t length, double rate_hz, Random& random);
[[nodiscard]] std::vector<double> speech(std::size_t length, double rate_hz, Random& random);
} // namespace clinic

} // namespace retap::bite
