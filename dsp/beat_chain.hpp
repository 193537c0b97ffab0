// Which events follow each other as the taps of a run do: alike in sound, and on one beat.
#pragma once

#include "dsp/run_member.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace retap::dsp {

/// What speaks for an event, and for one following another, is counted in natural logarithms of likelihood ratios: a
/// tap of the run against anything else that is heard.
struct ChainLimits {
    std::size_t nearest = 3;     ///< an event is held against so many members it is most like, ...
    std::size_t around = 8;      ///< ... of so many before it and as many after it
    double like_db = 2.0;        ///< usual distance of imprints within a run, at least; more when the run's own is more
    double like_spread = 0.5;    ///< standard deviation of its logarithm
    double strange = 1.2;        ///< usual distance of unlike impacts and syllables, by imprint_spread() of the run
    double strange_spread = 0.3; ///< standard deviation of its logarithm
    double most_like = 3.0;     ///< more than this likeness never speaks for an event, or it would outweigh every beat,
    double most_strange = 3.0;  ///< nor more than this against it: people are uneven
    double most_level = 2.0;    ///< the same for an odd level
    double as_sudden = 10.0;    ///< taps are no less prominent than this part of what is usual in the run;
    double sudden = 16.0;       ///< or than this, which hardly any background reaches, if it is less;
    double faint = 3.0;         ///< against each factor e by which an event is,
    double most_faint = 6.0;    ///< at most
    double most_prior = 1.5;    ///< what speaks at most for a convincing event that is in the company of taps alone,
    double company_s = 2.0;     ///< within this before and after it
    double like = 0.35;         ///< usual distance within a run, by its imprint_spread(), when it is to be one
    double convincing = 0.4;    ///< what speaks for an event that convinces by itself: nearly all taps do,
    double unconvincing = 1.5;  ///< and against one that does not: of other sounds half are so
    double on_beat = 1.5;       ///< what speaks for two neighbours that are one interval apart on a steady beat
    double most_off_beat = 8.0; ///< what speaks against two that are not, at most
    double missed = 3.0;        ///< against each interval left out between them,
    double pause = 4.0;         ///< and at most so much where a pause may have been,
    double shortest_pause = 1.5; ///< which is longer than so many intervals;
    double widest_gap = 4.5;     ///< what is longer than so many is one
};

struct Chain {
    std::vector<const RunMember*> members; ///< by time
    double support = 0.0;                  ///< all that speaks for it
};

/// What the time between two neighbours speaks for their being so in the run: one interval, or as many as were left out
/// and one more (the nearest whole number), whichever explains it better. `usual_scatter` is what the logarithm of an
/// interval usually scatters by.
[[nodiscard]] double for_step(double interval_s, const Run& run, double usual_scatter, const ChainLimits& limits = {});

/// What the likeness of `event` to `members` speaks for its being one of them, without a limit: the first term of
/// evidence_for(), for one that no beat speaks for.
[[nodiscard]] double likeness_to(std::span<const RunMember* const> members, const RunMember& event, const Run& run,
                                 const ChainLimits& limits = {});

/// What speaks for `members` (three or more, by time) being one run on the beat of `run` rather than as many sounds
/// that have nothing to do with each other: their likeness to each other, held against what a run and what strangers
/// usually have rather than against their own, the steps between them, and whether each convinces by itself.
[[nodiscard]] double evidence_for(std::span<const RunMember* const> members, const Run& run, const Oddness& scales,
                                  const ChainLimits& limits = {});

/// Whether an event is as sudden as the taps of `run`, so that it could be one: from the prominence on at which
/// suddenness no longer speaks against it.
[[nodiscard]] bool as_sudden(const RunMember& event, const Run& run, const ChainLimits& limits = {});

/// `run` as if its interval were `interval_s`: what its intervals scatter about that, or about two to four of that
/// where some were left out.
[[nodiscard]] Run on_interval(Run run, double interval_s, const Oddness& scales, const ChainLimits& limits = {});

/// What speaks for each of `candidates` by itself, beat or none, when the run is what `run` says of `members` (by time,
/// asserted), both by time: its likeness to the members, its level, how sudden it is, and whether others than taps
/// are heard within a few seconds of it.
[[nodiscard]] std::vector<double> worth_of(std::span<const RunMember* const> candidates,
                                           std::span<const RunMember* const> members, const Run& run,
                                           const ChainLimits& limits = {});

/// The chain of `candidates` (by time, each with its `worth`; asserted) for which most speaks on the beat of `run`.
///
/// Method: dynamic programming over the candidates, as a most likely path: an event adds what it is worth, and each
/// step from one member to the next what the interval between them is worth, a normal distribution of its logarithm
/// about the run's interval, or about two to four of them. So an event between two taps that are one interval apart
/// costs twice, and one that fills a gap pays twice. A run whose own intervals scatter gains less by its beat, and an
/// event off it loses less. Empty when nothing speaks for any candidate.
[[nodiscard]] Chain best_chain(std::span<const RunMember* const> candidates, std::span<const double> worth,
                               const Run& run, const Oddness& scales, const ChainLimits& limits = {});

} // namespace retap::dsp
