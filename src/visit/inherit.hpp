// What a visit takes over from the one that it continues.
#pragma once

#include "visit/visit.hpp"

#include <string>
#include <vector>

namespace retap::visit {

struct TakenOver {
    NewEntry entry; ///< stamped with when and by whom it is taken over
    int from = 0;   ///< entry of the earlier visit; a take's sound lies there
};

/// The baseline of `earlier` as it stands (holds, marks, takes), crossbite and warning signs, and its open decision.
/// Each keeps where it was first written, through any number of visits. Nothing else: what was charted after the work
/// is not the state to compare with.
[[nodiscard]] std::vector<TakenOver> taken_over(const Visit& earlier, const Stamp& stamp);

/// Whether the baseline comes from an earlier visit, so that nothing of today can be part of it.
[[nodiscard]] bool baseline_is_inherited(const Visit& visit);

/// "Continues visit 2 (C-1042, opened 2031-05-13 10:30 CEST)." and "Is continued by visit 5 (...)."; none for a visit
/// that stands alone.
[[nodiscard]] std::vector<std::string> sentences(const Chain& chain);

} // namespace retap::visit
