#include "compare/compare_takes.hpp"

#include "compare/compared_taps.hpp"
#include "compare/decision.hpp"
#include "compare/obstacles.hpp"
#include "compare/same_sound.hpp"
#include "compare/shown_measures.hpp"
#include "compare/verdict_words.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <cassert>
#include <iterator>
#include <memory>
#include <optional>
#include <utility>

namespace retap::compare {
namespace {

using Takes = std::span<const dsp::TakeAnalysis>;

/// The median peak of each take's taps, those that cannot be measured for softness included.
std::vector<double> levels_of(Takes takes) {
    std::vector<double> levels;
    for (const dsp::TakeAnalysis& take : takes) {
        std::vector<double> peaks;
        std::ranges::transform(take.taps, std::back_inserter(peaks), &dsp::Tap::peak_dbfs);
        if (!peaks.empty()) {
            levels.push_back(dsp::median(peaks));
        }
    }
    return levels;
}

std::optional<LevelEvidence> level_between(Takes before, Takes after, Setting setting,
                                           const LevelEvidenceSettings& settings) {
    const std::vector<double> then = levels_of(before);
    const std::vector<double> now = levels_of(after);
    const bool known = setting == Setting::same && !then.empty() && !now.empty();
    return known ? std::optional(level_evidence(then, now, settings)) : std::nullopt;
}

/// Whether one of the takes is so dull that contacts which land apart could pass for one. A band of 0 is unknown.
bool too_dull(Takes takes, const CompareSettings& settings) {
    return std::ranges::any_of(takes, [&](const dsp::TakeAnalysis& take) {
        return take.fitness.bandwidth_hz > 0.0 && take.fitness.bandwidth_hz < settings.min_alike_band_hz;
    });
}

/// Whether the first sound moved by more than `ms`, beyond what the taps leave open.
bool first_sound_moved(const Decision& decision, double ms) {
    const MeasureComparison* first = measure_named(decision.measures, word(EvidenceKind::first_sound));
    return first != nullptr && (first->low > ms || first->high < -ms);
}

/// Whether one kind by itself says that something changed, however little the others say.
bool one_speaks_up(const Decision& decision, const CompareSettings& settings) {
    return first_sound_moved(decision, settings.first_sound.tolerance_ms) ||
           std::ranges::any_of(decision.evidence, [](const Evidence& kind) {
               return kind.spoke && (kind.kind == EvidenceKind::later_contacts || kind.kind == EvidenceKind::level);
           });
}

/// `grounds` say what stands against `alike`.
Verdict verdict_of(const Decision& decision, const Grounds& grounds, const CompareSettings& settings) {
    const bool repeated = decision.level && decision.level->repeated;
    if (decision.without_level == Finding::beyond || first_sound_moved(decision, settings.first_sound.clear_ms) ||
        (decision.finding == Finding::beyond && repeated)) {
        return Verdict::different;
    }
    const bool all_heard = decision.first_heard && grounds.deep_enough && !grounds.dull;
    return decision.finding == Finding::within && all_heard && !one_speaks_up(decision, settings) ? Verdict::alike
                                                                                                  : Verdict::unclear;
}

} // namespace

Comparison compare_takes(Takes before, Takes after, Setting setting, const CompareSettings& settings) {
    assert(!before.empty() && !after.empty());
    Comparison result;
    result.before = before.front();
    result.after = after.front();
    result.settings = std::make_shared<const CompareSettings>(settings);
    result.measures = shown_measures(before, after, settings.shown_confidence);
    result.likeness = no_likeness;

    const ComparedTaps taps = compared_taps(before, after, settings.max_taps_a_take);
    const auto level = level_between(before, after, setting, settings.level);
    Obstacles obstacles = obstacles_to(before, after, taps.counts, level, settings);
    result.same_sound = same_sound(before, after);
    if (result.same_sound) {
        result.reasons = same_sound_reasons();
    } else if (taps.counts[0] >= 2 && taps.counts[1] >= 2) {
        const Decision decision = decide(taps, level, settings);
        const Grounds grounds{.taps = std::min(taps.counts[0], taps.counts[1]),
                              .snr_db = std::min(result.before.fitness.snr_db, result.after.fitness.snr_db),
                              .deep_enough = decision.deepest_db < settings.hidden_depth_db,
                              .dull = too_dull(before, settings) || too_dull(after, settings),
                              .repeated = before.size() + after.size() > 2};
        if (obstacles.reasons.empty() || obstacles.only_softer) {
            result.likeness = likeness_of(decision.sum, settings.evidence);
        }
        result.evidence = decision.evidence;
        result.sum = decision.sum;
        result.measures.insert(result.measures.begin(), decision.measures.begin(), decision.measures.end());
        if (obstacles.reasons.empty() || (obstacles.only_softer && decision.level->repeated)) {
            result.verdict = verdict_of(decision, grounds, settings);
            result.reasons = verdict_reasons(result.verdict, decision, grounds);
        }
    }
    if (result.reasons.empty()) {
        result.reasons = obstacles.only_softer ? softer_reasons(*level) : std::move(obstacles.reasons);
    }
    result.sentence = verdict_sentence(result.verdict);
    return result;
}

} // namespace retap::compare
