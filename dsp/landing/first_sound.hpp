// How long before its main impact a tap begins to sound, on two sides laid over each other: a high spot is met first.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>

namespace retap::dsp {

struct FirstSoundSettings {
    double from_hz = 700.0;    ///< lowest sound that is heard: the lower, the more slowly it rises
    double to_hz = 14000.0;    ///< higher sound may be missing from a copy
    double blur_ms = 0.1;      ///< energies are means over so much
    double sought_ms = 7.0;    ///< a tap begins at most so long before its main impact: 100 um at 15 mm/s
    double after_ms = 5.0;     ///< it is loudest at the latest so long after
    double quiet_ms = 7.0;     ///< of noise before all that
    double sigmas = 6.0;       ///< over the pooled noise is sound ..
    double lasting_ms = 0.08;  ///< .. when it lasts for as long
    double noise_part = 0.3;   ///< of the noise is added to energies, so that their logarithm bears its gaps
    double quietest_db = 80.0; ///< below a tap's peak: noise is never taken for less, digital silence included
};

/// Levels of a pooled tap's energy, dB re its peak, at which its beginning is read, every half decibel; those in the
/// noise are read where it stands out of the noise. A light first contact lies some 20 to 40 dB under the main impact.
/// Where a rise has a dip or a hump, the beginning jumps at one level from one to the other: between coarse levels that
/// depends on hundredths of a decibel, over fine ones each jump counts little.
inline constexpr auto first_sound_levels_db = [] {
    std::array<double, 71> levels{};
    for (std::size_t l = 0; l < levels.size(); ++l) {
        levels.at(l) = -50.0 + 0.5 * static_cast<double>(l);
    }
    return levels;
}();

/// One side at each level: how long before the main impact, and the standard error that its taps leave open. Times
/// count from where the taps of both sides together are loudest.
struct FirstSound {
    std::array<double, first_sound_levels_db.size()> ms{};
    std::array<double, first_sound_levels_db.size()> standard_error_ms{};
};

struct FirstSounds {
    std::array<FirstSound, 2> side;
    /// Level re the peak down to which sound can be told from noise on both sides, dB: what is fainter was not heard.
    double deepest_db = 0.0;
};

/// `taps` with their `side` (0 or 1), and in `main_impact` for each the sample of it at which the same impact stands,
/// up to a shift common to all (LandingSounds::main_impacts). Same lengths (asserted). Nothing when fewer than two taps
/// of a side reach from 15 ms before the main impact to 6 ms after it.
///
/// Method: the energy of each tap within the band, relative to its peak, is laid over the others' of its side by the
/// main impact, and their geometric mean taken, in which one tap with an early click counts little. Its rise is read at
/// fixed levels, none of them in the noise of either side. Errors by the jackknife over taps. What cancels: gain,
/// polarity, offset, and the sound itself, as long as both sides have it. The time of 2 % of a tap's energy, the usual
/// other end of such a measure, hangs on how the sound grows; the main impact as other taps show it does not.
///
/// A filter that only one side went through shifts steep rises little. Fails where the first contact is lost in the
/// noise of all taps together, where a patient's first contact wanders anyway, and where a linear-phase filter has
/// spread sound to before its beginning.
[[nodiscard]] std::optional<FirstSounds> first_sounds(std::span<const TapSound> taps,
                                                      std::span<const double> main_impact,
                                                      std::span<const std::size_t> side, SampleRate rate,
                                                      const FirstSoundSettings& settings = {});

} // namespace retap::dsp
