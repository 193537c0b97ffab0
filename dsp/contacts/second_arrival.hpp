// One sound heard twice: finds the second arrival inside a stretch where the first still rings.
#pragma once

#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

/// How the search looks at a stretch. Lags and times are in samples of the stretch.
struct ArrivalSearch {
    std::size_t shortest = 11;   ///< lags searched, both included
    std::size_t longest = 60;    ///< (0.23 to 1.25 ms at 48 kHz)
    double decay = 144.0;        ///< time constant of the weighting, see below
    std::size_t lead = 48;       ///< the onset stands so many samples after the stretch's first one
    std::size_t candidates = 5;  ///< lags on each side that are looked at closely
    double worth_refining = 8.0; ///< gain below which a coarse look is enough
};

/// The stretch as one sound k that arrives at the onset and again `lag` later, `ratio` times as strong.
struct SecondArrival {
    double lag = 0.0;        ///< samples, in steps of half a sample
    double ratio = 0.0;      ///< amplitude of the second over the first
    double gain = 0.0;       ///< log likelihood over 'it arrives once', in nats
    double train_gain = 0.0; ///< the same for a train of ever weaker copies at this lag: a ringing, not an arrival
};

/// Best explanation of `sound` (whitened; steady noise of `noise_rms` in it) as one sound arriving twice. Nothing when
/// the stretch is too short, silent, or no lag explains anything.
///
/// Method: for a lag D and a ratio a the sound is undone, k[n] = x[n] - a k[n - D]; for a > 1 from the end backwards,
/// which is the stable direction. k is judged as Gaussian noise whose power follows its own envelope (boxes of 8
/// samples, every 4, never below the noise): gain = -1/2 sum log envelope, less that of x. A copy taken away leaves
/// the quiet between the arrivals quiet again, wrongly undone sounds only gain energy; waveform and envelope both
/// speak, and nothing need be known about k. Undoing leaves the probability volume as it is, so the gains of all lags,
/// ratios and directions can be compared. A weighting exp(-t / decay) from the onset on keeps the noise of the tail
/// out; it turns a into a exp(-D / decay) and leaves everything else as it was, and `ratio` is corrected for it.
/// Candidate lags come from the score test at a = 0 (weighted least squares of x[n] on x[n - D], and the other way
/// round). Only copies of the same polarity are looked for.
///
/// On recorded strikes with 28 to 46 dB peak over noise, ratios of -7 to 10 dB and lags of 0.3 to 5 ms, the best lag is
/// the true one within 0.05 ms for about 90 % (all of those above 1.5 ms, three quarters of those under 0.6 ms), with
/// gains of 20 to 200; single strikes reach 15 and, when they ring at a pitch, 100 with a train_gain of 0.75 to 1.3
/// times that (true pairs: up to 0.65 times, more only for weak second arrivals). The ratio comes out about 1 dB too
/// near 0. Under 0.6 ms first and second can be taken for each other.
[[nodiscard]] std::optional<SecondArrival> find_second_arrival(std::span<const float> sound, double noise_rms,
                                                               const ArrivalSearch& search);

} // namespace retap::dsp
