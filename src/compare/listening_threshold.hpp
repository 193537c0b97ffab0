// A listener's threshold with its interval, from all trials of a test.
#pragma once

#include "compare/listening_staircase.hpp"

#include <optional>
#include <span>

namespace retap::compare {

struct ThresholdModel {
    double guess = 1.0 / 3.0; ///< right by chance: one of three sounds is the odd one
    double lapse = 0.02;      ///< wrong however clear it was: a slip of the finger
    double target =
        0.70710678118654752; ///< probability of a right answer at the threshold; between guess and 1 - lapse
    double lowest = 0.1;     ///< thresholds looked at
    double highest = 10000.0;
    double confidence = 0.95;
};

/// Absent bounds are open: the trials do not limit the threshold on that side.
struct Threshold {
    std::optional<double> value; ///< nothing when the trials do not tell where it is
    std::optional<double> low;
    std::optional<double> high;
    double steepness = 0.0; ///< exponent of the Weibull curve that fits best
};

/// Probability of a right answer at `level` for a listener with this threshold: a Weibull curve between guess and
/// 1 - lapse, guess + (1 - guess - lapse) (1 - exp(-(level / scale)^steepness)), that passes `target` at `threshold`.
[[nodiscard]] double chance_right(double level, double threshold, double steepness, const ThresholdModel& model);

/// Most likely threshold over a grid of thresholds (2 % apart) and steepnesses (0.7 to 6); the interval holds the
/// thresholds whose likelihood, at their own best steepness, is not lower than chi squared with one degree of freedom
/// allows (Wilks 1938, from memory), at a confidence that is raised (0.95 to 0.98) because levels chosen by the answers
/// make it too narrow: of made listeners with 30 to 50 trials, 91 to 99 in 100 lay inside. Wichmann FA, Hill NJ 2001,
/// Percept Psychophys 63:1293 on the curve and the lapses (from memory). No trials: nothing known. Fewer than about 20
/// trials: the interval is a rough guide.
[[nodiscard]] Threshold fit_threshold(std::span<const StaircaseTrial> trials, const ThresholdModel& model);

} // namespace retap::compare
