#include "compare/compare_takes.hpp"

#include "compare/deciding_measures.hpp"
#include "compare/heard_channel.hpp"
#include "compare/likeness.hpp"
#include "compare/plain_words.hpp"
#include "compare/shown_measures.hpp"
#include "dsp/base/tap_sound.hpp"
#include "dsp/landing/landing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

namespace retap::compare {
namespace {

using Takes = std::span<const dsp::TakeAnalysis>;

/// The taps that can take part in the landing, thinned out evenly when there are many.
std::vector<const dsp::Tap*> chosen_taps(const dsp::TakeAnalysis& take, std::size_t most) {
    std::vector<const dsp::Tap*> usable;
    for (const dsp::Tap& tap : take.taps) {
        if (tap.usable && !tap.excerpt.samples.empty()) {
            usable.push_back(&tap);
        }
    }
    if (usable.size() <= most) {
        return usable;
    }
    std::vector<const dsp::Tap*> chosen;
    for (std::size_t i = 0; i < most; ++i) {
        chosen.push_back(usable[i * (usable.size() - 1) / (most - 1)]);
    }
    return chosen;
}

/// Everything the landing is told from, in one order whichever side comes first, so that swapping them changes nothing.
struct Gathered {
    std::vector<dsp::TapSound> taps;
    std::vector<std::size_t> side;
    std::vector<std::size_t> take;
    TapCounts counts{};
};

void gather(Gathered& all, Takes takes, std::size_t side, HeardChannel channel, std::size_t most) {
    for (const dsp::TakeAnalysis& take : takes) {
        const std::size_t number = all.take.empty() ? 0 : all.take.back() + 1;
        for (const dsp::Tap* tap : chosen_taps(take, most)) {
            all.taps.push_back(
                {.samples = sound_in(tap->excerpt, channel), .onset = dsp::Position(tap->excerpt.onset_index)});
            all.side.push_back(side);
            all.take.push_back(number);
            ++all.counts.at(side);
        }
    }
}

/// Sides are put in an order that depends on nothing but the taps themselves.
bool goes_first(Takes a, Takes b) {
    const auto key = [](Takes takes) {
        std::vector<double> figures;
        for (const dsp::TakeAnalysis& take : takes) {
            for (const dsp::Tap& tap : take.taps) {
                figures.push_back(tap.duration_ms);
                figures.push_back(tap.rise_ms);
                figures.push_back(tap.onset_s);
            }
        }
        return figures;
    };
    return key(a) <= key(b);
}

/// Why these takes cannot be judged; empty when they can.
std::vector<std::string> obstacles(Takes takes, std::string_view side, std::size_t taps, std::size_t least) {
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

/// How much of a light first contact the noise may hide, 0 to 1.
double hidden_share(double deepest_db, const CompareSettings& settings) {
    const double range = settings.hidden_depth_db - settings.heard_depth_db;
    return std::clamp((deepest_db - settings.heard_depth_db) / range, 0.0, 1.0);
}

/// What the taps of both sides say, fit or not.
struct Decision {
    std::vector<MeasureComparison> measures{}; ///< those that decide
    Likeness likeness = no_likeness;
    Verdict verdict = Verdict::unclear;
    bool deep_enough = true; ///< to hear a light first contact
    bool recoloured = false; ///< it sounds different, but nothing lands earlier or later
};

/// Two taps or more on each side.
Decision decide(const Gathered& all, const CompareSettings& settings) {
    const dsp::SampleRate rate(dsp::analysis_rate_hz);
    dsp::LandingSounds sounds(all.taps, all.take, rate, settings.landing);
    LandingDifference difference = landing_difference(sounds, rate, all.side, all.take, settings.difference);
    const auto shift = shift_between(all.taps, sounds.main_impacts(), all.side, rate, settings.first_sound);
    if (shift) {
        difference = weighed(difference, *shift, settings.first_sound);
    }
    const double hidden = shift ? hidden_share(shift->deepest_db, settings) : 1.0;
    const Finding in_quiet = landing_measure(difference, all.counts, settings).shown.finding;
    difference.standard_error *= std::lerp(1.0, settings.hidden_widening, hidden);

    Decision decision;
    DecidingMeasure landing = landing_measure(difference, all.counts, settings);
    decision.deep_enough = hidden < 0.5 && in_quiet == landing.shown.finding;
    std::vector<RelativeSize> sizes{landing.size};
    std::vector<Finding> findings;
    if (shift) {
        DecidingMeasure first = first_sound_measure(*shift, all.counts, settings);
        decision.recoloured = only_recoloured(landing, first, settings);
        sizes.push_back(first.size);
        findings.push_back(first.shown.finding);
        decision.measures.push_back(std::move(first.shown));
    } else {
        findings.push_back(Finding::unclear); // nobody knows when the taps begin
    }
    if (decision.recoloured) {
        landing.shown.finding = Finding::unclear;
        landing.shown.plain = plain_recoloured();
    }
    findings.push_back(landing.shown.finding);
    decision.measures.insert(decision.measures.begin(), std::move(landing.shown));
    decision.likeness = likeness_of(sizes, settings.likeness_steepness);
    decision.verdict = verdict_of(findings);
    return decision;
}

/// Whether one of the takes is so dull that contacts which land apart could pass for one. A band of 0 is unknown.
bool too_dull(Takes takes, const CompareSettings& settings) {
    return std::ranges::any_of(takes, [&](const dsp::TakeAnalysis& take) {
        return take.fitness.bandwidth_hz > 0.0 && take.fitness.bandwidth_hz < settings.min_alike_band_hz;
    });
}

/// The sentence on the first sound, when it explains a verdict other than `alike`.
std::optional<std::string> told_by_first_sound(const Decision& decision) {
    const auto first = std::ranges::find(decision.measures, "first_sound", &MeasureComparison::name);
    const bool tells = first != decision.measures.end() && first->finding != Finding::within;
    return tells ? std::optional(first->plain) : std::nullopt;
}

} // namespace

Comparison compare_takes(Takes before, Takes after, const CompareSettings& settings) {
    assert(!before.empty() && !after.empty());
    Comparison result;
    result.before = before.front();
    result.after = after.front();
    result.measures = shown_measures(before, after, settings.shown_confidence);

    const bool swapped = !goes_first(before, after);
    Gathered all;
    const HeardChannel channel = heard_channel(before, after);
    gather(all, swapped ? after : before, swapped ? 1 : 0, channel, settings.max_taps_a_take);
    gather(all, swapped ? before : after, swapped ? 0 : 1, channel, settings.max_taps_a_take);
    std::vector<std::string> reasons = obstacles(before, "before", all.counts[0], settings.min_taps);
    for (std::string& reason : obstacles(after, "after", all.counts[1], settings.min_taps)) {
        reasons.push_back(std::move(reason));
    }
    if (all.counts[0] < 2 || all.counts[1] < 2) { // nothing can be said at all
        result.likeness = no_likeness;
        result.sentence = verdict_sentence(result.verdict);
        result.reasons = std::move(reasons);
        return result;
    }
    Decision decision = decide(all, settings);
    result.likeness = decision.likeness;
    if (reasons.empty()) {
        const bool dull = too_dull(before, settings) || too_dull(after, settings);
        result.verdict = decision.verdict == Verdict::alike && dull ? Verdict::unclear : decision.verdict;
        reasons = verdict_reasons(result.verdict,
                                  {.taps = std::min(all.counts[0], all.counts[1]),
                                   .snr_db = std::min(result.before.fitness.snr_db, result.after.fitness.snr_db),
                                   .deep_enough = decision.deep_enough,
                                   .recoloured = decision.recoloured,
                                   .dull = dull,
                                   .repeated = before.size() + after.size() > 2});
        if (const auto told = told_by_first_sound(decision); told && result.verdict != Verdict::alike) {
            reasons.insert(reasons.begin() + 1, *told);
        }
    }
    result.measures.insert(result.measures.begin(), std::make_move_iterator(decision.measures.begin()),
                           std::make_move_iterator(decision.measures.end()));
    result.sentence = verdict_sentence(result.verdict);
    result.reasons = std::move(reasons);
    return result;
}

} // namespace retap::compare
