// Which events follow each other on one beat, as the taps of a run do.
#pragma once

#include "dsp/run/features.hpp"
#include "dsp/run/settings.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

struct Chain {
    std::vector<const RunMember*> members; ///< by time
    double support = 0.0;                  ///< all that speaks for it
};

/// What the time between two neighbours speaks for their being so in the run: one interval, or as many as were left out
/// and one more (the nearest whole number), whichever explains it better. `usual_scatter` is what the logarithm of an
/// interval usually scatters by.
[[nodiscard]] double for_step(double interval_s, const Run& run, double usual_scatter, const ChainLimits& limits);

/// `run` as if its interval were `interval_s`: what its intervals scatter about that, or about two to four of that
/// where some were left out.
[[nodiscard]] Run on_interval(Run run, double interval_s, const Oddness& scales, const ChainLimits& limits);

/// The chain of `candidates` (by time, each with its `worth`; asserted) for which most speaks on the beat of `run`.
///
/// Method: dynamic programming over the candidates, as a most likely path: an event adds what it is worth, and each
/// step from one member to the next what the interval between them is worth, a normal distribution of its logarithm
/// about the run's interval, or about two to four of them. So an event between two taps that are one interval apart
/// costs twice, and one that fills a gap pays twice. A run whose own intervals scatter gains less by its beat, and an
/// event off it loses less. Empty when nothing speaks for any candidate.
[[nodiscard]] Chain viterbi_chain(std::span<const RunMember* const> candidates, std::span<const double> worth,
                                  const Run& run, const Oddness& scales, const ChainLimits& limits);

} // namespace retap::dsp
