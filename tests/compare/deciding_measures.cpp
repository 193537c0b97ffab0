#include "compare/deciding_measures.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace retap::compare;

namespace {

constexpr TapCounts eight_each{8, 8};

FirstSoundShift shift(double after_ms, double error_ms) {
    return {.before_ms = 0.5,
            .after_ms = after_ms,
            .before_error_ms = error_ms,
            .after_error_ms = error_ms,
            .size = 1.0,
            .deepest_db = -40.0};
}

Finding found(double after_ms, double error_ms) {
    return first_sound_measure(shift(after_ms, error_ms), eight_each, {}).shown.finding;
}

} // namespace

TEST_CASE("the landing is told in times of the usual, with its interval and its size against the tolerance") {
    const CompareSettings settings;
    const DecidingMeasure landing = landing_measure({.ratio = 0.5, .standard_error = 0.4}, eight_each, settings);
    CHECK(landing.shown.difference == 0.5);
    CHECK(landing.shown.low == 0.0); // no difference is smaller than none
    CHECK(landing.shown.high == doctest::Approx(0.5 + 0.4 * settings.interval_sigmas));
    CHECK(landing.size.value == doctest::Approx(0.5 / settings.landing_tolerance));
    CHECK(landing.shown.decides);
    CHECK(landing.shown.finding == Finding::within);
    CHECK(landing_measure({.ratio = 9.0, .standard_error = 0.4}, eight_each, settings).shown.finding ==
          Finding::beyond);
}

TEST_CASE("a first sound is within, beyond or unclear by its shift and by how well it is known") {
    CHECK(found(0.52, 0.01) == Finding::within);
    CHECK(found(0.90, 0.01) == Finding::beyond);
    CHECK(found(0.10, 0.01) == Finding::beyond); // less lead than before, too
    CHECK(found(0.52, 1.00) == Finding::unclear);
    CHECK(found(0.90, 1.00) == Finding::unclear); // 3.2 ms more, give or take 3.5, must not pass for none
}

TEST_CASE("what is shown of the first sound is the scatter of the taps and the interval of the shift") {
    const CompareSettings settings;
    const DecidingMeasure first = first_sound_measure(shift(0.9, 0.05), eight_each, settings);
    CHECK(first.shown.before.middle == 0.5);
    CHECK(first.shown.before.scatter == doctest::Approx(0.05 * std::sqrt(8.0)));
    CHECK(first.shown.difference == doctest::Approx(0.4));
    CHECK(first.shown.high - first.shown.low ==
          doctest::Approx(2.0 * settings.interval_sigmas * 0.05 * std::sqrt(2.0)));
}

TEST_CASE("two sides of one sound differ by nothing, however badly their beginning is known") {
    FirstSoundShift none = shift(0.5, 2.0);
    none.size = 0.0;
    const DecidingMeasure first = first_sound_measure(none, eight_each, {});
    CHECK(first.shown.finding == Finding::within);
    CHECK(first.size.high == 0.0);
}

TEST_CASE("a landing that differs somewhat while nothing begins earlier or later is colour") {
    const CompareSettings settings;
    const DecidingMeasure differs = landing_measure({.ratio = 3.2, .standard_error = 0.4}, eight_each, settings);
    const DecidingMeasure differs_much = landing_measure({.ratio = 9.0, .standard_error = 0.4}, eight_each, settings);
    const DecidingMeasure alike = landing_measure({.ratio = 0.9, .standard_error = 0.4}, eight_each, settings);
    const DecidingMeasure still = first_sound_measure(shift(0.51, 0.01), eight_each, settings);
    const DecidingMeasure moved = first_sound_measure(shift(0.55, 0.01), eight_each, settings);
    CHECK(only_recoloured(differs, still, settings));
    CHECK_FALSE(only_recoloured(differs_much, still, settings));
    CHECK_FALSE(only_recoloured(differs, moved, settings));
    CHECK_FALSE(only_recoloured(alike, still, settings));
}
