// What an event leaves in octaves and time, and how unlike two of them are.
#pragma once

#include "dsp/stream/frame_history.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

namespace retap::dsp {

/// Mean powers of an event in its octaves and in three slices of time, noise floor taken off: the attack, the
/// early ringing, the late ringing. Two taps of one mouth, contact for contact a little different, leave nearly the
/// same pattern; a vowel or a struck tray leaves another. In decibels re full scale; a cell that is lost in the noise
/// or 25 dB below the strongest counts as being just there.
struct BandTimePattern {
    static constexpr std::size_t max_octaves = 8;
    static constexpr std::size_t slices = 3; ///< -4 to 7, 7 to 21 and 21 to 60 ms from the main rise
    static constexpr std::size_t cells = max_octaves * slices;

    std::array<double, cells> level_db{}; ///< slice by slice, octaves from the lowest
    std::array<double, cells> doubt_db{}; ///< standard deviation of the level by the noise alone
    std::array<bool, cells> heard{};      ///< stands out; the cells of octaves that do not exist never do
};

/// `main` is the frame in which the main rise begins; history and floor as in EventDetector.
[[nodiscard]] BandTimePattern measure_pattern(const FrameHistory& history, std::span<const double> floor,
                                              std::int64_t main, double frames_per_second);

/// Cell by cell the median; heard where at least half of them are. Of at least one (asserted).
[[nodiscard]] BandTimePattern median_pattern(std::span<const BandTimePattern* const> patterns);

/// RMS difference (dB) over the cells in which at least one is heard, after the difference of the means is taken off:
/// the same event at another level is at 0. Doubtful cells weigh less, and no cell counts for more than 20 dB. 0 when
/// nothing is heard. Same result either way round.
[[nodiscard]] double pattern_distance(const BandTimePattern& a, const BandTimePattern& b);

/// Standard deviation (dB) of the levels over all cells, those lost in the noise included: how much of a shape it has.
/// A sound that has nothing to do with it is at a distance of one to one and a half times that, whatever the noise: by
/// as much as an pattern of no shape at all, or by root two when it has as much shape of its own.
[[nodiscard]] double pattern_spread(const BandTimePattern& pattern);

} // namespace retap::dsp
