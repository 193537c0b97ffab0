// The second contact of each tap, told by how it shifts from tap to tap under the sound that all taps share.
#pragma once

#include "dsp/base/tap_sound.hpp"
#include "dsp/base/units.hpp"
#include "dsp/contacts/gap_score.hpp"
#include "dsp/contacts/shared_kernel.hpp"
#include "dsp/contacts/tap_spectra.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace retap::dsp {

struct ShiftSettings {
    SpectraSettings spectra{};
    GapSearch search{};      ///< without a guess: a shift is a small one only for short gaps
    double align_ms = 0.8;   ///< taps may be timed wrongly by so much
    double longest_ms = 5.5; ///< gaps with a guess, up to this
    std::size_t starts = 3;  ///< gaps that are looked at closely
    /// Share of what differs between taps that a shift of one gap must explain to be looked at closely,
    double worth_a_look = 0.05;
    double worth_of_excess = 0.12; ///< and so much of what the noise does not explain of it
    std::size_t first_steps = 5;   ///< of the fit from each start;
    double worth_going_on = 0.98;  ///< the best of them goes on if it leaves less than this of the differences,
    std::size_t max_steps = 15;    ///< by so many;
    std::size_t rounds = 3;        ///< then each tap's arrivals are sought anew and fitted again, up to so often
    double widest_scatter = 0.3;   ///< of one tap's gap about the middle one
    double lag_step_ms = 0.006;
};

/// The taps as one sound that arrives twice in each of them.
struct ShiftingArrivals {
    std::vector<Playing> playing{}; ///< of each tap
    /// What is left of the differences between the taps with two arrivals, over what is left with one: near 1 when the
    /// taps differ in nothing that a second arrival explains.
    double left = 1.0;
    double over_noise = 0.0; ///< what is left with one arrival, over what the noise alone would leave
    double chance = 0.0;     ///< share of the noise that one arbitrary lag and ratio for each tap would take up
};

/// Best explanation of several taps as one shared sound that arrives twice in each, at a gap that differs a little from
/// tap to tap. `guesses_ms` may hold a first idea of each tap's gap (as many as taps, or none). Nothing with fewer than
/// four taps or without any that stand out of the noise.
///
/// Method: in taps of one contact the sound cancels whatever it is: they differ by delay and level alone. With two
/// contacts whose gap scatters they do not, and the way they differ shows gap and ratio. Nothing is supposed about the
/// sound, so its own echoes and pitches, which are the same in every tap, cannot be taken for a second contact. Gaps
/// come from a score test (what a small shift at each gap would explain of the differences) and from the guesses, then
/// all taps are fitted together (dsp/contacts/shared_kernel) under a weighting exp(-t / decay), which turns a ratio a
/// into a exp(-gap / decay) and is taken back. Blind where the gap does not scatter, by 0.003 ms at 0.3 ms and 40 dB;
/// and where the taps differ in other ways by more than the shift makes: then `left` stays near 1.
[[nodiscard]] std::optional<ShiftingArrivals> find_shifting_arrivals(std::span<const TapSound> taps, SampleRate rate,
                                                                     std::span<const double> guesses_ms,
                                                                     const ShiftSettings& settings);

} // namespace retap::dsp
