// What each kind of evidence says, and how they add up to a likeness and a finding.
#pragma once

#include "compare/comparison.hpp"

#include <cstddef>
#include <span>

namespace retap::compare {

/// How evidence is added and read.
///
/// Each kind gives the logarithm of how many times as large its figure is as in the middle of unchanged bites: 0 says
/// nothing, 0.7 that it is twice as large. Logarithms of figures that have little to do with each other add, and so the
/// sum is a figure times another times another, as many times as large as usual. No kind is learned to weigh more than
/// another: on takes of other jaws and sounds than they were learned on, weights did worse than none.
struct EvidenceSettings {
    /// Sums up to this count as the same bite. Nearer than that lie most unchanged pairs of all simulated families and
    /// few of those with a tooth 50 um high (tools/validate).
    double limit = 1.2;
    /// Sums from this on count as a difference; what lies between is unclear. A patient whose pick-up never sits twice
    /// in the same way has larger sums than others: few unchanged pairs, of all families, reach it with their interval.
    double beyond = 1.5;
    /// Standard deviation of the sum when each side has `usual_taps`: that of the ratio of landing over relabellings of
    /// the taps, in the middle of simulated pairs. One pair's own hangs on chance more than on the pair.
    double usual_error = 0.26;
    std::size_t usual_taps = 8;
    double interval_sigmas = 1.64; ///< the interval covers 90 %: two one-sided tests at 5 % each
    /// Sum at which the likeness is 50. With it 15, 25, 50, 100 and 200 um stand near the grades that a user is told
    /// (README).
    double half_likeness = 2.3;
    double speaks = 0.7; ///< a kind is named among the reasons from here on: twice the usual
    /// No kind says less than this: how much nearer than usual two sides are to each other by one kind is chance, and
    /// no reason to believe another one less. A light contact that comes early stands in the first sound alone.
    double least = 0.0;
};

/// `taps`: the harmonic mean of the numbers on both sides; the error of the sum falls with its root.
[[nodiscard]] SummedEvidence summed(std::span<const Evidence> evidence, double taps, const EvidenceSettings& settings);

/// Equivalence, not difference: `within` when the whole interval lies under `limit`, `beyond` when it lies wholly over
/// `beyond`.
[[nodiscard]] Finding judge(const SummedEvidence& sum, const EvidenceSettings& settings);

/// 100 / (1 + exp(sum - half)): 50 where the sum reaches `half_likeness`, falling all the way, never at 0 or 100; the
/// interval by the ends of the sum's.
[[nodiscard]] Likeness likeness_of(const SummedEvidence& sum, const EvidenceSettings& settings);

} // namespace retap::compare
