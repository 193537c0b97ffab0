// What makes events a run of taps, in numbers.
#pragma once

#include <cstddef>

namespace retap::dsp {

/// How far taps of one run lie apart, and how much a deviation may count. The scales are what people do (levels a few
/// decibels, intervals some per cent: common practice, no source); a run that scatters more brings its own.
struct Oddness {
    double pattern_db = 2.5;     ///< usual pattern_distance() of a tap to the median of its run, at least
    double level_db = 3.0;       ///< usual difference in level from the median, at least
    double abruptness_db = 5.0;  ///< the same of abruptness
    double interval = 0.12;      ///< usual deviation of an interval from the median, at least, as a share of it
    double max_pattern = 10.0;   ///< what a deviation of each kind adds at most: people are uneven, and one odd
    double max_level = 6.0;      ///< property alone is no proof
    double max_abruptness = 3.0; ///< it follows from level and tone in part, and must not count twice
    double max_beat = 4.0;
};

/// What speaks for an event, and for one following another, is counted in natural logarithms of likelihood ratios: a
/// tap of the run against anything else that is heard.
struct ChainLimits {
    std::size_t nearest = 3;     ///< an event is held against so many members it is most like, ...
    std::size_t around = 8;      ///< ... of so many before it and as many after it
    double like_db = 2.0;        ///< usual distance of patterns within a run, at least; more when the run's own is more
    double like_spread = 0.5;    ///< standard deviation of its logarithm
    double strange = 1.2;        ///< usual distance of unlike impacts and syllables, by pattern_spread() of the run
    double strange_spread = 0.3; ///< standard deviation of its logarithm
    double max_like = 3.0;     ///< more than this likeness never speaks for an event, or it would outweigh every beat,
    double max_strange = 3.0;  ///< nor more than this against it: people are uneven
    double max_level = 2.0;    ///< the same for an odd level
    double as_sudden = 10.0;   ///< taps are no less prominent than this part of what is usual in the run;
    double sudden = 16.0;      ///< or than this, which hardly any background reaches, if it is less;
    double faint = 3.0;        ///< against each factor e by which an event is,
    double max_faint = 6.0;    ///< at most
    double max_prior = 1.5;    ///< what speaks at most for a convincing event that is in the company of taps alone,
    double company_s = 2.0;    ///< within this before and after it
    double like = 0.35;        ///< usual distance within a run, by its pattern_spread(), when it is to be one
    double convincing = 0.4;   ///< what speaks for an event that convinces by itself: nearly all taps do,
    double unconvincing = 1.5; ///< and against one that does not: of other sounds half are so
    double on_beat = 1.5;      ///< what speaks for two neighbours that are one interval apart on a steady beat
    double max_off_beat = 8.0; ///< what speaks against two that are not, at most
    double missed = 3.0;       ///< against each interval left out between them,
    double pause = 4.0;        ///< and at most so much where a pause may have been,
    double shortest_pause = 1.5; ///< which is longer than so many intervals;
    double widest_gap = 4.5;     ///< what is longer than so many is one
};

/// The limits of a run.
struct RunLimits {
    Oddness oddness;
    std::size_t min_taps = 3; ///< fewer like events than this are no run
    double alike = 2.5;       ///< two events may found a run when their oddness to each other is below this
    double together_s = 8.0;  ///< and they are no further apart than this
    ChainLimits chain;
    double shortest_interval_s = 0.2;    ///< nobody taps faster (common practice, no source)
    double min_evidence = 4.0;           ///< a run has this much more than the best of so many unlike sounds by chance,
    double min_for_each = 1.75;          ///< and for each of its members this: two sounds of one talker or one tray are
                                         ///< not unlike, so that a sum of many may say too much;
    double min_for_steady = 0.5;         ///< or this, where so many as below keep a steady beat
    double max_level_apart_db = 18.0;    ///< from the median of the run: nobody taps eight times as hard as usual;
    double widest_level_apart_db = 26.0; ///< from that of the few it is known by while it is sought
    double min_prominence = 8.0;         ///< a run whose events are less prominent than this in the middle is none,
    std::size_t steady_taps = 5;         ///< unless so many of them keep a beat as steadily as people do
    double faintest = 4.0;               ///< and are at least this prominent in the middle
    double min_likeness = 3.5;           ///< of an event off the beat, when there are as many other sounds as taps
    double nearest_off_beat = 0.55;      ///< it is no nearer to a tap than this part of the interval, as echoes are,
    double nearest_to_closest = 0.8;     ///< or this part of the run's own shortest
    double longest_pause_s = 1.3;        ///< between neighbours of a run, or
    double pause_factor = 2.2;           ///< this many times the run's median interval, whichever is longer
};

} // namespace retap::dsp
