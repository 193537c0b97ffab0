#include "compare/first_sound_evidence.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace retap;
using compare::FirstSoundShift;
using compare::shift_of;
using compare::weighed;

namespace {

dsp::FirstSound at(double ms, double error_ms) {
    dsp::FirstSound sound;
    sound.ms.fill(ms);
    sound.standard_error_ms.fill(error_ms);
    return sound;
}

} // namespace

TEST_CASE("the size of a shift is its length over its error and the drift between takes") {
    compare::FirstSoundEvidenceSettings settings;
    settings.drift_ms = 1.2;
    const FirstSoundShift shift = shift_of({at(0.5, 0.3), at(1.8, 0.4)}, settings);
    CHECK(shift.before_ms == doctest::Approx(0.5));
    CHECK(shift.after_ms == doctest::Approx(1.8));
    CHECK(shift.before_error_ms == doctest::Approx(0.3));
    CHECK(shift.after_error_ms == doctest::Approx(0.4));
    CHECK(shift.size == doctest::Approx(1.0)); // 1.3 over the root of 0.3^2 + 0.4^2 + 1.2^2, which is 1.3
}

TEST_CASE("an early first sound makes a difference larger, an unmoved one smaller, and neither without bound") {
    const compare::LandingDifference landing{.ratio = 1.2, .standard_error = 0.3};
    const auto of_size = [](double size) {
        FirstSoundShift shift;
        shift.size = size;
        return shift;
    };
    const auto ratio = [&](double size) { return weighed(landing, of_size(size)).ratio; };
    CHECK(ratio(0.25) == doctest::Approx(1.2)); // the usual
    CHECK(ratio(0.0) == doctest::Approx(1.2 * std::pow(0.5 / 0.75, 0.4)));
    CHECK(ratio(2.5) == doctest::Approx(1.2 * std::pow(3.0 / 0.75, 0.4)));
    CHECK(ratio(100.0) == ratio(4.0));
    CHECK(ratio(4.0) / ratio(0.25) < 2.1);
    const compare::LandingDifference both = weighed(landing, of_size(2.5));
    CHECK(both.standard_error / both.ratio == doctest::Approx(0.25)); // the relative error stays
    CHECK(weighed({}, of_size(4.0)).ratio == 0.0);
}
