// Every number that an analysis goes by, in one place: handed down from the top, and kept with the result.
#pragma once

#include "dsp/find/tap_finder.hpp"
#include "dsp/measure/fitness.hpp"
#include "dsp/measure/tap_group.hpp"
#include "dsp/measure/tap_measures.hpp"
#include "dsp/run/settings.hpp"

#include <cstddef>

namespace retap::dsp {

struct TakeSettings {
    double before_ms = 20.0; ///< kept ahead of a tap's onset: quiet to judge the noise by
    double after_ms = 130.0; ///< kept after it: the longest tap, and the background behind it
    /// Taps whose sound is kept with the result, for overlays and for comparing. Further ones are measured all the
    /// same; their sound is let go, so that an hour of tapping needs no more memory than a minute.
    std::size_t keep_sound_of = 48;
    /// Taps that share one kernel when contacts are resolved; a long recording is worked through in groups of so many.
    std::size_t group = 48;
};

/// The settings of the rooms that a take goes through, as each room's own struct, where every number has its reason. A
/// room is handed its part and has no settings of its own making, so that what stands here is what was in force.
struct AnalysisSettings {
    TakeSettings take;
    FindSettings find;
    RunLimits run;
    GroupSettings together;
    MeasureSettings measure;
    FitnessRules fitness;
};

} // namespace retap::dsp
