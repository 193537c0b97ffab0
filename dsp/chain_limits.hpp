// How much each thing counts that speaks for an event to be a tap of a run.
#pragma once

#include <cstddef>

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

} // namespace retap::dsp
