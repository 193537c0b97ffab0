#include "compare/decision.hpp"

#include "compare/evidence.hpp"
#include "compare/plain_words.hpp"
#include "dsp/landing/energy_profile.hpp"
#include "dsp/landing/landing.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <utility>

namespace retap::compare {
namespace {

/// What a figure of several taps, known to within `error`, scatters by from tap to tap.
dsp::Summary of_taps(double middle, double error, std::size_t n) {
    return {.middle = middle, .scatter = error * std::sqrt(static_cast<double>(n)), .n = n};
}

/// A kind of which the figure is told in times the usual: its interval and finding are those of its logarithm.
MeasureComparison in_times_the_usual(const Evidence& kind, const TapCounts& counts, double taps,
                                     const EvidenceSettings& settings) {
    const SummedEvidence alone = summed({&kind, 1}, taps, {.least = kind.weight});
    MeasureComparison shown;
    shown.name = word(kind.kind);
    shown.unit = times_the_usual;
    shown.before = {.middle = 0.0, .scatter = 1.0, .n = counts[0]};
    shown.after = {.middle = std::exp(kind.weight), .scatter = 1.0, .n = counts[1]};
    shown.difference = shown.after.middle;
    shown.low = std::exp(alone.low);
    shown.high = std::exp(alone.high);
    shown.tolerance = std::exp(settings.limit);
    shown.decides = true;
    shown.finding = judge(alone, settings);
    return shown;
}

/// How long before the main impact the taps begin to sound. Two sides of one sound differ by nothing, however well the
/// beginning of either is known.
MeasureComparison in_milliseconds(const FirstSoundShift& shift, const TapCounts& counts,
                                  const CompareSettings& settings) {
    const bool same_sound = shift.size == 0.0;
    const double error = same_sound ? 0.0 : std::hypot(shift.before_error_ms, shift.after_error_ms);
    const double reach = settings.evidence.interval_sigmas * error;
    MeasureComparison shown;
    shown.name = word(EvidenceKind::first_sound);
    shown.unit = "ms";
    shown.before = of_taps(shift.before_ms, shift.before_error_ms, counts[0]);
    shown.after = of_taps(shift.after_ms, shift.after_error_ms, counts[1]);
    shown.difference = shift.after_ms - shift.before_ms;
    shown.low = shown.difference - reach;
    shown.high = shown.difference + reach;
    shown.tolerance = settings.first_sound.tolerance_ms;
    shown.decides = true;
    const double size = std::abs(shown.difference);
    if (size + reach <= shown.tolerance) {
        shown.finding = Finding::within;
    } else if (size - reach > shown.tolerance) {
        shown.finding = Finding::beyond;
    }
    shown.plain = plain_first_sound(shown);
    return shown;
}

std::array<std::vector<dsp::EnergyProfile>, 2> profiles_of(const ComparedTaps& taps, dsp::SampleRate rate) {
    std::array<std::vector<dsp::EnergyProfile>, 2> sides;
    for (std::size_t i = 0; i < taps.sounds.size(); ++i) {
        if (const auto profile = dsp::energy_profile(taps.sounds[i], rate)) {
            sides.at(taps.side[i]).push_back(*profile);
        }
    }
    return sides;
}

std::array<std::vector<double>, 2> spreads_of(const ComparedTaps& taps, const LaterContactsSettings& settings) {
    std::array<std::vector<double>, 2> sides;
    for (std::size_t i = 0; i < taps.taps.size(); ++i) {
        if (!taps.taps[i]->contacts.empty()) {
            sides.at(taps.side[i]).push_back(strong_spread_ms(taps.taps[i]->contacts, settings));
        }
    }
    return sides;
}

/// Taps of two sides of which the fewer weigh more: the harmonic mean of their numbers.
double worth(const TapCounts& counts) {
    return 2.0 / (1.0 / static_cast<double>(counts[0]) + 1.0 / static_cast<double>(counts[1]));
}

} // namespace

Decision decide(const ComparedTaps& taps, const std::optional<LevelEvidence>& level, const CompareSettings& settings) {
    assert(taps.counts[0] >= 2 && taps.counts[1] >= 2);
    const dsp::SampleRate rate(dsp::analysis_rate_hz);
    const double worth_of_taps = worth(taps.counts);
    Decision decision;
    const auto note = [&](EvidenceKind kind, double weight) -> const Evidence& {
        return decision.evidence.emplace_back(
            Evidence{.kind = kind, .weight = weight, .spoke = weight > settings.evidence.speaks});
    };

    dsp::LandingSounds sounds(taps.sounds, taps.take, rate, settings.landing);
    const double ratio = landing_difference(sounds, rate, taps.side, taps.take, settings.difference);
    constexpr double least_ratio = 0.01; // two sides of one sound differ by nothing, and that has no logarithm
    MeasureComparison landing = in_times_the_usual(note(EvidenceKind::landing, std::log(std::max(ratio, least_ratio))),
                                                   taps.counts, worth_of_taps, settings.evidence);
    landing.plain = plain_landing(landing.finding);
    decision.measures.push_back(std::move(landing));

    const auto shift = shift_between(taps.sounds, sounds.main_impacts(), taps.side, rate, settings.first_sound);
    decision.first_heard = shift.has_value();
    if (shift) {
        note(EvidenceKind::first_sound, weight_of(*shift, settings.first_sound));
        decision.deepest_db = shift->deepest_db;
        decision.measures.push_back(in_milliseconds(*shift, taps.counts, settings));
    }
    const auto profiles = profiles_of(taps, rate);
    if (const auto difference = profile_difference(profiles[0], profiles[1], settings.profile)) {
        const double weight = std::log(std::max(*difference / settings.profile.usual, least_ratio));
        MeasureComparison profile = in_times_the_usual(note(EvidenceKind::energy_profile, weight), taps.counts,
                                                       worth_of_taps, settings.evidence);
        profile.plain = plain_energy_profile(profile.finding);
        decision.measures.push_back(std::move(profile));
    }
    const auto spreads = spreads_of(taps, settings.later);
    decision.contacts = later_contacts(spreads[0], spreads[1], settings.later);
    const LaterContacts ripple = later_ripple(dsp::spectral_ripples(taps.sounds, rate), taps.side, settings.later);
    if (ripple.weight > decision.contacts.weight) {
        decision.contacts = ripple;
    }
    note(EvidenceKind::later_contacts, decision.contacts.weight);

    decision.without_level = judge(summed(decision.evidence, worth_of_taps, settings.evidence), settings.evidence);
    if (level) {
        decision.level = level;
        note(EvidenceKind::level, level->weight);
    }
    decision.sum = summed(decision.evidence, worth_of_taps, settings.evidence);
    decision.finding = judge(decision.sum, settings.evidence);
    return decision;
}

} // namespace retap::compare
