// A smooth change of tone, as a few decibels in each octave.
#pragma once

#include "bite/random.hpp"

#include <array>
#include <cstddef>
#include <span>

namespace retap::bite {

/// Gains in decibels at 88 Hz, 177 Hz, .. 11.3 kHz. Colours add up.
struct Colour {
    static constexpr std::size_t bands = 8;
    std::array<double, bands> gain_db{};

    Colour& operator+=(const Colour& other);
    [[nodiscard]] static double centre_hz(std::size_t band);
    /// Independent normal gains of this spread.
    [[nodiscard]] static Colour scatter(Random& random, double sd_db);
    /// Straight in decibels per octave, 0 at 1 kHz.
    [[nodiscard]] static Colour tilt(double db_per_octave);
};

/// Filters `samples` in place: one second-order peak per octave (bilinear, Q 1.2), minimum phase, so it adds no delay
/// before the first sample and rings for about a period of the lowest band it lifts. Bands above 0.45 of the rate are
/// left alone. Gains of neighbouring bands overlap; within 3 dB of what was asked for gains up to 6 dB.
void apply_colour(std::span<double> samples, double rate_hz, const Colour& colour);

} // namespace retap::bite
