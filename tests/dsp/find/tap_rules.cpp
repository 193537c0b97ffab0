#include "dsp/find/tap_rules.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace retap::dsp;

namespace {

/// A short impact in a quiet moment, that every rule lets pass.
EventShape impact() {
    EventShape shape;
    shape.loudness = Level(-20.0);
    shape.over_noise = Level(30.0);
    shape.rise_ms = 1.0;
    shape.fall_ms = 20.0;
    shape.jump = Level(25.0);
    shape.before = Level(-40.0);
    shape.after = Level(-40.0);
    shape.octaves = shape.octaves_risen = 6;
    shape.prominence = 100.0;
    return shape;
}

} // namespace

TEST_CASE("a short impact in a quiet moment convinces by itself") {
    CHECK_FALSE(not_a_tap(impact(), {}).has_value());
}

TEST_CASE("what is no more sudden than the sounds around it does not convince by itself") {
    EventShape gurgle = impact();
    gurgle.prominence = 5.0;
    CHECK(not_a_tap(gurgle, {}) == NoTap::restless);
}

TEST_CASE("each rule names what it found") {
    EventShape soft = impact();
    soft.over_noise = Level(2.0);
    CHECK(not_a_tap(soft, {}) == NoTap::too_soft);
    EventShape tone = impact();
    tone.octaves_risen = 1;
    CHECK(not_a_tap(tone, {}) == NoTap::tone);
    EventShape thud = impact();
    thud.below = Level(25.0);
    CHECK(not_a_tap(thud, {}) == NoTap::thud);
}
