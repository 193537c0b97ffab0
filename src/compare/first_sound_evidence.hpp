// What the first sound of the taps says.
#pragma once

#include "dsp/landing/first_sound.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <span>

namespace retap::compare {

struct FirstSoundEvidenceSettings {
    /// The hearing that is told in milliseconds.
    dsp::FirstSoundSettings pooled{.blur_ms = 0.4};
    /// Lowest frequencies of further bands listened to. A dull tap stands out of the noise in the widest band, a
    /// beginning is sharpest in the highest; the mean over bands tells more than any of them on simulated bites of four
    /// kinds.
    std::array<double, 2> further_from_hz{300.0, 1500.0};
    /// What the first contact moves by from take to take when nothing was changed, standard deviation: posture and
    /// effort shift a bite by micrometres, and 7 um at 70 mm/s are 0.1 ms. An assumption; on simulated bites the middle
    /// of unchanged pairs moves by 0.15 to 0.4 of it.
    double drift_ms = 0.1;
    double usual = 0.25; ///< size of the shift in the middle of unchanged pairs
    double least = 0.5;  ///< added to every size: shifts well below the drift are all alike
    double most = 8.0;   ///< and one above counts as this: by itself it makes a difference 8 times as large
    /// Power with which it counts beside the landing. Flat from 0.7 to 1 on simulated bites of six kinds; less, and
    /// strikes that ring long hide 25 to 100 um; more, and takes whose beginning a linear-phase filter has smeared are
    /// told apart by that.
    double power = 0.85;
    /// Further means of the energy in each band: over a short while a beginning is sharp; over a long one a light first
    /// contact that rings on stands out of noise in which it would be lost, by some 5 dB for ten times as long.
    std::array<double, 2> further_blur_ms{0.1, 1.0};
    /// Shifts of the first sound up to this count as none: of unchanged simulated pairs of six kinds 95 in 100 stay
    /// below 0.1 ms, and 15 um at 100 mm/s make as much as this.
    double tolerance_ms = 0.15;
    /// A shift that with its whole interval lies beyond this makes `different` by itself, however alike the rest
    /// sounds: a light contact that comes early stands in nothing else. Unchanged simulated pairs move by half of it at
    /// most.
    double clear_ms = 0.4;
};

/// How far the beginning of the taps moved against their main impact.
struct FirstSoundShift {
    double before_ms = 0.0;       ///< from first sound to main impact before (side 0), at the lowest level
    double after_ms = 0.0;        ///< and after (side 1)
    double before_error_ms = 0.0; ///< standard errors of these, by the scatter of the taps alone
    double after_error_ms = 0.0;
    double size = 0.0; ///< mean over levels of the shift over its error and the drift, 0 or more; and over bands and
                       ///< blurs, each at most `most`. 0 only for two sides of one sound
    /// Level re the peak down to which `pooled` hears both sides, dB: what is fainter is lost in the noise.
    double deepest_db = 0.0;
};

/// The shift in one band, at one blur.
[[nodiscard]] FirstSoundShift shift_of(const dsp::FirstSounds& sounds, const FirstSoundEvidenceSettings& settings = {});

/// The shift over all bands and blurs, of taps as dsp::first_sounds takes them; nothing where that of `pooled` says
/// nothing, and further ones that say nothing are left out.
[[nodiscard]] std::optional<FirstSoundShift> shift_between(std::span<const dsp::TapSound> taps,
                                                           std::span<const double> main_impact,
                                                           std::span<const std::size_t> side, dsp::SampleRate rate,
                                                           const FirstSoundEvidenceSettings& settings = {});

/// What the shift says: the logarithm of a power of its size relative to the usual.
[[nodiscard]] double weight_of(const FirstSoundShift& shift, const FirstSoundEvidenceSettings& settings = {});

} // namespace retap::compare
