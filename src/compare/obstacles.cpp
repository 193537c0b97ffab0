#include "compare/obstacles.hpp"

#include "dsp/measure/fitness.hpp"

#include <algorithm>
#include <string_view>

namespace retap::compare {
namespace {

using Takes = std::span<const dsp::TakeAnalysis>;

std::vector<std::string> of_side(Takes takes, std::string_view side, std::size_t taps, std::size_t least) {
    std::vector<std::string> reasons;
    for (const dsp::TakeAnalysis& take : takes) {
        for (const std::string& reason : take.fitness.reasons) {
            reasons.push_back("The take " + std::string(side) + " is not fit: " + reason);
        }
    }
    if (reasons.empty() && taps < least) {
        reasons.push_back("Only " + std::to_string(taps) + " taps can be used " + std::string(side) + "; " +
                          std::to_string(least) + " are needed. Record 8 or more.");
    }
    return reasons;
}

} // namespace

bool fit_but_for_softness(const dsp::TakeAnalysis& take) {
    const dsp::Fitness& fitness = take.fitness;
    const bool in_the_noise = fitness.snr_db < dsp::FitnessRules{}.good_snr_db;
    return fitness.usable || (in_the_noise && fitness.clipped_samples == 0 && fitness.dropouts == 0);
}

Obstacles obstacles_to(Takes before, Takes after, const TapCounts& counts, const std::optional<LevelEvidence>& level,
                       const CompareSettings& settings) {
    Obstacles found;
    found.reasons = of_side(before, "before", counts[0], settings.min_taps);
    for (std::string& reason : of_side(after, "after", counts[1], settings.min_taps)) {
        found.reasons.push_back(std::move(reason));
    }
    if (!found.reasons.empty() && level) {
        const bool after_softer = level->before_db - level->after_db >= settings.level.repeat_db;
        const bool before_softer = level->after_db - level->before_db >= settings.level.repeat_db;
        const Takes softer = after_softer ? after : before;
        const Takes louder = after_softer ? before : after;
        found.only_softer = (after_softer || before_softer) && counts.at(after_softer ? 0 : 1) >= settings.min_taps &&
                            std::ranges::all_of(softer, fit_but_for_softness) &&
                            std::ranges::all_of(louder, [](const auto& take) { return take.fitness.usable; });
    }
    return found;
}

} // namespace retap::compare
