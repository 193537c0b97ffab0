// How well a listener tells two sounds apart, freed of their leaning towards one answer: d'.
// Formulas as collected by Macmillan NA, Creelman CD, Detection Theory (from memory); the tests hold them to a table.
#pragma once

#include <cstddef>
#include <optional>

namespace retap::compare {

/// Probabilities strictly between 0 and 1 (asserted).
/// Yes or no: z(hits) - z(false alarms).
[[nodiscard]] double sensitivity_yes_no(double hits, double false_alarms);
/// Which of two: sqrt(2) z(p).
[[nodiscard]] double sensitivity_one_of_two(double right);

/// Three sounds, one of them odd; the listener picks the one that lies farthest from the others (Ennis DM 1993, J Sens
/// Stud 8:353, from memory). Right by chance: a third. `sensitivity` at least 0 (asserted); by Simpson's rule, good to
/// 1e-9 up to 12.
[[nodiscard]] double right_in_triangle(double sensitivity);
/// The inverse, 0 for a third or less, within 1e-9; at most 12.
[[nodiscard]] double sensitivity_in_triangle(double right);

/// Same or different, judged by whether the two sounds seem farther apart than some limit.
struct SameDifferentRates {
    double hits = 0.0;         ///< "different" said of different sounds
    double false_alarms = 0.0; ///< "different" said of same ones
};
/// What a listener of this sensitivity answers with this limit (both at least 0, asserted). Differencing rule:
/// false alarms 2 Phi(-limit / sqrt 2), hits Phi((d - limit) / sqrt 2) + Phi((-d - limit) / sqrt 2).
[[nodiscard]] SameDifferentRates same_different_rates(double sensitivity, double limit);

struct SameDifferentCounts {
    std::size_t different = 0; ///< pairs that were different, and how many of them were called so
    std::size_t different_called = 0;
    std::size_t same = 0; ///< pairs that were the same, and how many of them were called different
    std::size_t same_called_different = 0;
};

struct Sensitivity {
    double value = 0.0;
    double low = 0.0;
    std::optional<double> high; ///< absent: the answers set no upper limit
};

/// Most likely d' and the interval by likelihood ratio with the limit free (Wilks 1938, from memory), on a grid 0.02
/// apart from 0 to
/// 8. Nothing unless both kinds of pairs were heard. Perfect answers give the 8 at the grid's end and no upper bound:
/// read `low` then.
[[nodiscard]] std::optional<Sensitivity> same_different_sensitivity(const SameDifferentCounts& counts,
                                                                    double confidence);

} // namespace retap::compare
