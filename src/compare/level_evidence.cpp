#include "compare/level_evidence.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::compare {

LevelEvidence level_evidence(std::span<const double> before, std::span<const double> after,
                             const LevelEvidenceSettings& settings) {
    assert(!before.empty() && !after.empty());
    LevelEvidence told;
    told.before_db = dsp::median(before);
    told.after_db = dsp::median(after);
    const double change = told.after_db - told.before_db;
    told.weight = settings.per_db * std::max(0.0, std::abs(change) - settings.free_db);
    const auto far_from = [&](double other) {
        return [&, other](double level) { return std::abs(level - other) >= settings.repeat_db; };
    };
    told.repeated = (after.size() > 1 && std::ranges::all_of(after, far_from(told.before_db))) ||
                    (before.size() > 1 && std::ranges::all_of(before, far_from(told.after_db)));
    return told;
}

} // namespace retap::compare
