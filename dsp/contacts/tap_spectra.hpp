// The spectra of a take's taps, side by side on one scale, for fitting all of them at once.
#pragma once

#include "dsp/base/spectrum.hpp"
#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"

#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// Spectra of several taps at the same, evenly spaced frequencies, so scaled that what is not explained weighs alike
/// everywhere.
struct TapSpectra {
    double first_radians = 0.0;   ///< angular frequency of the first value, radians per ms
    double step_radians = 0.0;    ///< from one to the next
    std::vector<Spectrum> taps{}; ///< one spectrum per tap, all of one length

    /// A delay by `t_ms`, frequency by frequency.
    [[nodiscard]] Phasor phasor(double t_ms) const { return {first_radians, step_radians, t_ms}; }
};

struct SpectraSettings {
    double lead_ms = 1.0;     ///< of a tap's sound, from so long before its onset
    double decay_ms = 4.0;    ///< time constant of the weighting that lets the sound die away,
    double fade_out_ms = 6.0; ///< and what is left of it at the end fades out over so long
    Frequency lowest{400.0};
    Frequency highest{20000.0};
    double guard_ms = 0.5;    ///< the noise is measured up to so long before the lead
    double noise_part = 20.0; ///< a frequency counts in full where the taps are this many times over the noise
};

/// Spectra, and what the noise does to them.
struct HeardSpectra {
    TapSpectra spectra{};
    double noise = 0.0;  ///< sum of squares that the noise leaves where one shared sound explains the rest of all taps
    double chance = 0.0; ///< share of it that one arbitrary delay and level for each tap would take up
};

/// 21 ms of each tap (1024 samples at 48 kHz) under exp(-t / decay), brought to energy 1, over the root of the taps'
/// mean spectrum plus `noise_part` times the noise before them. The weighting keeps one sound played twice just that: a
/// copy `lag` later and `ratio` times as strong becomes one of exp(-lag / decay) x ratio. Never takes the taps for more
/// alike than 50 dB. Nothing when an excerpt is silent or too short: less than 2 ms of quiet, or not 20 ms after.
[[nodiscard]] std::optional<HeardSpectra> hear_spectra(std::span<const TapSound> taps, SampleRate rate,
                                                       const SpectraSettings& settings);

} // namespace retap::dsp
