// What the taps of a run have in common, and how odd an event is among them.
#pragma once

#include "dsp/find/band_time_pattern.hpp"
#include "dsp/find/event_shape.hpp"
#include "dsp/run/settings.hpp"

#include <span>
#include <vector>

namespace retap::dsp {

/// What an event is judged by when it is held against others.
struct RunMember {
    double at_s = 0.0;
    double level_db = 0.0;       ///< loudness, re full scale
    double abruptness_db = 0.0;  ///< prominence over loudness: how sudden it is for its level, in steady noise the same
                                 ///< for soft and loud taps
    double log_prominence = 0.0; ///< natural logarithm
    BandTimePattern pattern;
    bool convincing = true; ///< it is like a tap by itself as well (tap_rules)
};

[[nodiscard]] RunMember run_member(const EventShape& shape, double at_s, bool convincing = true);

/// A run as its members describe it: medians and robust standard deviations.
struct Run {
    std::vector<double> times_s; ///< of its members, in order
    double interval_s = 0.0;
    double interval_scatter = 0.0; ///< of the logarithm
    BandTimePattern pattern;
    double pattern_scatter_db = 0.0;
    double level_db = 0.0;
    double level_scatter_db = 0.0;
    double abruptness_db = 0.0;
    double abruptness_scatter_db = 0.0;
    double log_prominence = 0.0;
};

/// Of at least two members, by time (asserted). The scatters are at least those of `scales`.
[[nodiscard]] Run describe_run(std::span<const RunMember* const> members, const Oddness& scales);

/// Where the differences lie. Each is a squared deviation in units of the run's scatter, q = (x / scatter)^2,
/// saturating as q / (1 + q / most): near the middle twice the log likelihood of a normal, far out a constant.
struct Oddities {
    double pattern = 0.0;
    double level = 0.0;
    double abruptness = 0.0;
    double beat = 0.0; ///< distance to the nearest other member against the run's interval
    [[nodiscard]] double sum() const { return pattern + level + abruptness + beat; }
};

[[nodiscard]] Oddities oddities(const RunMember& event, const Run& run, const Oddness& scales);

/// Of two events to each other, without a beat: the same with the usual scatters. Both scatter, so a squared difference
/// counts half.
[[nodiscard]] double oddness_between(const RunMember& a, const RunMember& b, const Oddness& scales);

} // namespace retap::dsp
