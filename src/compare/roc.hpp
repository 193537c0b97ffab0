// How well a score tells two kinds of case apart.
#pragma once

#include <span>

namespace retap::compare {

/// Area under the ROC curve: how often a case that should score high scores above one that should score low, ties
/// counted half.
struct RocArea {
    double area = 0.5;
    double standard_error = 0.0; ///< Hanley JA, McNeil BJ 1982, Radiology 143:29-36, with Q1 and Q2 from the scores
};

/// Both groups not empty (asserted). n log n. The standard error is too small near an area of 1 (it is 0 at 1).
[[nodiscard]] RocArea roc_area(std::span<const double> should_be_low, std::span<const double> should_be_high);

} // namespace retap::compare
