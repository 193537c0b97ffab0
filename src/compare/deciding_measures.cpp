#include "compare/deciding_measures.hpp"

#include "compare/plain_words.hpp"

#include <cmath>

namespace retap::compare {
namespace {

/// What a figure of several taps, known to within `error`, scatters by from tap to tap.
dsp::Summary of_taps(double middle, double error, std::size_t n) {
    return {.middle = middle, .scatter = error * std::sqrt(static_cast<double>(n)), .n = n};
}

} // namespace

DecidingMeasure landing_measure(const LandingDifference& difference, const TapCounts& taps,
                                const CompareSettings& settings) {
    const double reach = settings.interval_sigmas * difference.standard_error;
    DecidingMeasure landing;
    landing.size = relative_size(difference.ratio, reach, settings.landing_tolerance);
    MeasureComparison& shown = landing.shown;
    shown.name = "landing";
    shown.unit = "times the usual";
    shown.before = {.middle = 0.0, .scatter = 1.0, .n = taps[0]};
    shown.after = {.middle = difference.ratio, .scatter = 1.0, .n = taps[1]};
    shown.difference = difference.ratio;
    shown.low = landing.size.low * settings.landing_tolerance;
    shown.high = difference.ratio + reach;
    shown.tolerance = settings.landing_tolerance;
    shown.decides = true;
    shown.finding = judge(landing.size);
    shown.plain = plain_landing(shown.finding);
    return landing;
}

DecidingMeasure first_sound_measure(const FirstSoundShift& shift, const TapCounts& taps,
                                    const CompareSettings& settings) {
    const bool same_sound = shift.size == 0.0;
    const double error = same_sound ? 0.0 : std::hypot(shift.before_error_ms, shift.after_error_ms);
    const double reach = settings.interval_sigmas * error;
    const double tolerance = settings.first_sound.tolerance_ms;
    DecidingMeasure first;
    MeasureComparison& shown = first.shown;
    shown.name = "first_sound";
    shown.unit = "ms";
    shown.before = of_taps(shift.before_ms, shift.before_error_ms, taps[0]);
    shown.after = of_taps(shift.after_ms, shift.after_error_ms, taps[1]);
    shown.difference = shift.after_ms - shift.before_ms;
    shown.low = shown.difference - reach;
    shown.high = shown.difference + reach;
    shown.tolerance = tolerance;
    shown.decides = true;
    first.size = relative_size(shown.difference, reach, tolerance);
    shown.finding = judge(first.size);
    shown.plain = plain_first_sound(shown);
    return first;
}

bool only_recoloured(const DecidingMeasure& landing, const DecidingMeasure& first_sound,
                     const CompareSettings& settings) {
    return landing.shown.finding == Finding::beyond && landing.size.value < settings.first_sound.max_colour &&
           std::abs(first_sound.shown.difference) < settings.first_sound.still_ms;
}

} // namespace retap::compare
