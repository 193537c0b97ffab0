// Can a take be relied on? And if not, what to do about it.
#pragma once

#include "dsp/base/take.hpp"
#include "dsp/base/units.hpp"

#include <cstddef>
#include <optional>
#include <span>

namespace retap::dsp {

/// What there is to know about a take. Counts are of the recording, tap by tap facts are read off the taps.
struct FitnessEvidence {
    std::span<const Tap> taps;
    SampleRate rate{analysis_rate_hz}; ///< of the taps' excerpts
    double duration_s = 0.0;
    Level noise{-300.0};   ///< RMS between taps in the analysis band, re full scale
    Level loudest{-300.0}; ///< largest sample, re full scale; an offset that never changes does not count
    std::size_t clipped_samples = 0;
    std::size_t clipped_taps = 0;
    std::size_t dropouts = 0;  ///< holes and repeats in the samples, and gaps that the capture reported
    double silent_share = 0.0; ///< part in exact silence, as in SignalFaults
    std::optional<std::size_t> silent_channel{}; ///< of two, the one without sound: 0 left, 1 right
    std::optional<double> recorded_rate_hz;      ///< of the recording itself, when known
};

/// Limits, each with its reason. "Least" refuses the take below, "good" adds a caution below.
struct FitnessRules {
    std::size_t min_taps = 3; ///< a median and a scatter need three
    std::size_t good_taps = 6;
    Level audible{-66.0}; ///< below this everywhere there is nothing: 10 steps of 16 bits
    double min_snr_db = 20.0;
    double good_snr_db = 34.0;       ///< below, the noise lifts the -20 dB threshold of rise and duration
    double min_band_hz = 1000.0;     ///< contacts 1 ms apart are just told apart: 100 um at 100 mm/s
    double good_band_hz = 4000.0;    ///< and 0.25 ms, the spread of a balanced bite
    double min_wall_hz = 5000.0;     ///< refuses recordings at 8 kHz
    double good_wall_hz = 8500.0;    ///< cautions on recordings at 16 kHz
    double max_clipped_share = 0.25; ///< of the taps
    std::size_t max_dropouts = 3;
    double gated_share = 0.2; ///< of what lies between the first sound and the last
    /// Drop of the background across a tap: half its power. 719 takes of the bite model, in rooms and clinic noise, 24
    /// to 45 dB, reach 1.6 dB; one that gives way by 12 dB and comes back with 0.1 to 0.7 s drops by 3.4 to 5.8 dB.
    double pumping_db = 3.0;
    /// Taps whose level climbs or falls from the first to the last by so much, with less than such a chance of coming
    /// out so steadily by chance, are not of one kind: people settle into tapping, or tire. Levels scatter by some 3 dB
    /// within a take (common practice, no source), so twice that.
    double drift_db = 6.0;
    double drift_chance = 0.01;
};

/// The verdict on the take, with a plain sentence for each reason and caution that also says what to try. Independent
/// of gain as long as nothing clips or sinks below `audible`.
[[nodiscard]] Fitness judge_fitness(const FitnessEvidence& evidence, const FitnessRules& rules);

/// Median over the taps of how much lower the background is 100 ms after the onset than before it, in dB: an automatic
/// level control turns down at the tap and comes back slowly. From excerpts with 10 ms or more before the onset and 110
/// ms or more after it that are not digitally silent; nothing with fewer than 5 of these. A room that rings
/// longer than half a second raises the level after a tap and can hide it, as can a gain that gives way by 6 dB or
/// less.
[[nodiscard]] std::optional<double> background_drop_db(std::span<const Tap> taps, SampleRate rate);

} // namespace retap::dsp
