// The statistics that comparing takes and validating the comparison need. Values are finite (asserted where cheap).
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace retap::compare {

/// Number, mean and standard deviation (n - 1) of some values.
struct Moments {
    std::size_t n = 0;
    double mean = 0.0;
    double sd = 0.0; ///< 0 for a single value
};

/// Two passes with a correction for rounding of the mean (Chan TF, Golub GH, LeVeque RJ 1983, Am Stat 37:242-247; from
/// memory): loses no digits to a large offset. Not empty (asserted).
[[nodiscard]] Moments moments(std::span<const double> values);

/// Difference between two independent groups, `second` minus `first`, with unequal variances allowed (Welch BL 1947,
/// from memory).
struct MeanDifference {
    double difference = 0.0;
    double standard_error = 0.0;
    double degrees = 0.0; ///< Welch-Satterthwaite, not rounded; n1 + n2 - 2 when neither group varies

    /// Difference over standard error: infinite, with the sign of the difference, when nothing varies; 0 for 0 / 0.
    [[nodiscard]] double t() const;
};
/// Two values or more in each group (asserted).
[[nodiscard]] MeanDifference mean_difference(const Moments& first, const Moments& second);

struct Interval {
    double low = 0.0;
    double high = 0.0;
};
/// Two-sided interval that covers the true difference with this confidence (0..1, exclusive, asserted), if the values
/// are near normal. For an equivalence test at level alpha use confidence 1 - 2 alpha.
[[nodiscard]] Interval confidence_interval(const MeanDifference& difference, double confidence);

/// Two one-sided tests (Schuirmann DJ 1987, J Pharmacokinet Biopharm 15:657-680; from memory): is the difference inside
/// +-tolerance?
struct EquivalenceTest {
    double p_above_low = 1.0;  ///< for "not above -tolerance"
    double p_below_high = 1.0; ///< for "not below +tolerance"
    double p = 1.0;            ///< the larger of the two: equivalent at level alpha when p < alpha
};
/// tolerance > 0 (asserted).
[[nodiscard]] EquivalenceTest test_equivalence(const MeanDifference& difference, double tolerance);

/// Spread of repeated measurements on the same thing, pooled over several things (Bland JM, Altman DG 1996,
/// BMJ 313:744).
struct Repeatability {
    double within_sd = 0.0; ///< root of the pooled variance inside the groups
    double degrees = 0.0;   ///< sum of (n - 1); 0 when no group has two values, and then nothing is known
    /// Two measurements on the same thing differ by less than this 19 times in 20: 1.96 sqrt(2) within_sd.
    [[nodiscard]] double coefficient() const;
};
[[nodiscard]] Repeatability repeatability(std::span<const std::vector<double>> groups);

} // namespace retap::compare
