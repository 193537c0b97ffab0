// The measures that decide a comparison, each with its size against its tolerance.
#pragma once

#include "compare/compare_takes.hpp"
#include "compare/comparison.hpp"
#include "compare/first_sound_evidence.hpp"
#include "compare/landing_difference.hpp"
#include "compare/likeness.hpp"

#include <array>
#include <cstddef>

namespace retap::compare {

struct DecidingMeasure {
    MeasureComparison shown;
    RelativeSize size;
};

/// Taps that could be used before and after.
using TapCounts = std::array<std::size_t, 2>;

/// How the contacts land, with the finding by its interval alone.
[[nodiscard]] DecidingMeasure landing_measure(const LandingDifference& difference, const TapCounts& taps,
                                              const CompareSettings& settings);

/// How long before the main impact the taps begin to sound. Two sides of one sound differ by nothing, however well the
/// beginning of either is known.
[[nodiscard]] DecidingMeasure first_sound_measure(const FirstSoundShift& shift, const TapCounts& taps,
                                                  const CompareSettings& settings);

/// Whether the taps sound somewhat different while their beginning stood still: no contact is heard to land earlier or
/// later then, and a re-seated pick-up could have done as much.
[[nodiscard]] bool only_recoloured(const DecidingMeasure& landing, const DecidingMeasure& first_sound,
                                   const CompareSettings& settings);

} // namespace retap::compare
