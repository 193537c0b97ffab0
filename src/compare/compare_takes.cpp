#include "compare/compare_takes.hpp"

#include "compare/likeness.hpp"
#include "compare/plain_words.hpp"
#include "compare/shown_measures.hpp"
#include "dsp/landing.hpp"
#include "dsp/tap_sound.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
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
    std::size_t counts[2] = {0, 0};
};

void gather(Gathered& all, Takes takes, std::size_t side, std::size_t most) {
    for (const dsp::TakeAnalysis& take : takes) {
        const std::size_t number = all.take.empty() ? 0 : all.take.back() + 1;
        for (const dsp::Tap* tap : chosen_taps(take, most)) {
            all.taps.push_back({.samples = tap->excerpt.samples, .onset = dsp::Position(tap->excerpt.onset_index)});
            all.side.push_back(side);
            all.take.push_back(number);
            ++all.counts[side];
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

MeasureComparison landing_measure(const LandingDifference& difference, const Gathered& all,
                                  const CompareSettings& settings) {
    const double reach = settings.interval_sigmas * difference.standard_error;
    MeasureComparison landing;
    landing.name = "landing";
    landing.unit = "times the usual";
    landing.before = {.middle = 0.0, .scatter = 1.0, .n = all.counts[0]};
    landing.after = {.middle = difference.ratio, .scatter = 1.0, .n = all.counts[1]};
    landing.difference = difference.ratio;
    landing.low = std::max(0.0, difference.ratio - reach);
    landing.high = difference.ratio + reach;
    landing.tolerance = settings.landing_tolerance;
    landing.decides = true;
    landing.finding = judge_landing(difference, settings);
    landing.plain = plain_landing(landing.finding);
    return landing;
}

/// How much of a light first contact the noise may hide, 0 to 1.
double hidden_share(double deepest_db, const CompareSettings& settings) {
    const double range = settings.hidden_depth_db - settings.heard_depth_db;
    return std::clamp((deepest_db - settings.heard_depth_db) / range, 0.0, 1.0);
}

/// What a figure of several taps, known to within `error`, scatters by from tap to tap.
dsp::Summary of_taps(double middle, double error, std::size_t n) {
    return {.middle = middle, .scatter = error * std::sqrt(static_cast<double>(n)), .n = n};
}

MeasureComparison first_sound_measure(const FirstSoundShift& shift, const Gathered& all,
                                      const CompareSettings& settings) {
    const double reach = settings.interval_sigmas * std::hypot(shift.before_error_ms, shift.after_error_ms);
    MeasureComparison first;
    first.name = "first_sound";
    first.unit = "ms";
    first.before = of_taps(shift.before_ms, shift.before_error_ms, all.counts[0]);
    first.after = of_taps(shift.after_ms, shift.after_error_ms, all.counts[1]);
    first.difference = first.after.middle - first.before.middle;
    first.low = first.difference - reach;
    first.high = first.difference + reach;
    first.tolerance = 2.0 * settings.first_sound.drift_ms;
    if (std::max(-first.low, first.high) <= first.tolerance) {
        first.finding = Finding::within;
    } else if (first.low > first.tolerance || first.high < -first.tolerance) {
        first.finding = Finding::beyond;
    }
    first.plain = plain_first_sound(first);
    return first;
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
    gather(all, swapped ? after : before, swapped ? 1 : 0, settings.most_taps_a_take);
    gather(all, swapped ? before : after, swapped ? 0 : 1, settings.most_taps_a_take);
    std::vector<std::string> reasons = obstacles(before, "before", all.counts[0], settings.least_taps);
    for (std::string& reason : obstacles(after, "after", all.counts[1], settings.least_taps)) {
        reasons.push_back(std::move(reason));
    }
    bool deep_enough = true;                      // to hear a light first contact
    if (all.counts[0] < 2 || all.counts[1] < 2) { // nothing can be said at all
        result.likeness = no_likeness;
    } else {
        const dsp::SampleRate rate(dsp::analysis_rate_hz);
        dsp::LandingSounds sounds(all.taps, all.take, rate, settings.landing);
        LandingDifference difference = landing_difference(sounds, rate, all.side, all.take, settings.difference);
        const auto first = shift_between(all.taps, sounds.main_impacts(), all.side, rate, settings.first_sound);
        if (first) {
            difference = weighed(difference, *first, settings.first_sound);
            result.measures.insert(result.measures.begin(), first_sound_measure(*first, all, settings));
        }
        const double hidden = first ? hidden_share(first->deepest_db, settings) : 1.0;
        const Finding in_quiet = judge_landing(difference, settings);
        difference.standard_error *= std::lerp(1.0, settings.hidden_widening, hidden);
        deep_enough = hidden < 0.5 && in_quiet == judge_landing(difference, settings);
        result.likeness = likeness_with_interval(difference, settings);
        result.measures.insert(result.measures.begin(), landing_measure(difference, all, settings));
        if (reasons.empty()) {
            const Finding finding = result.measures.front().finding;
            result.verdict = finding == Finding::within   ? Verdict::alike
                             : finding == Finding::beyond ? Verdict::different
                                                          : Verdict::unclear;
        }
    }
    result.sentence = verdict_sentence(result.verdict);
    if (reasons.empty()) {
        reasons = verdict_reasons(result.verdict,
                                  {.taps = std::min(all.counts[0], all.counts[1]),
                                   .snr_db = std::min(result.before.fitness.snr_db, result.after.fitness.snr_db),
                                   .deep_enough = deep_enough,
                                   .repeated = before.size() + after.size() > 2});
        const auto first = std::ranges::find(result.measures, "first_sound", &MeasureComparison::name);
        if (result.verdict != Verdict::alike && first != result.measures.end() && first->finding == Finding::beyond) {
            reasons.insert(reasons.begin() + 1, first->plain);
        }
    }
    result.reasons = std::move(reasons);
    return result;
}

} // namespace retap::compare
