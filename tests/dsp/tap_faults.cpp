#include "dsp/tap_faults.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace retap::dsp;

namespace {

const SampleRate rate(48000.0);
const Position onset(48000.0);

std::vector<SampleRun> run_at_ms(double after_onset_ms) {
    return {{.begin = onset + Length::from_ms(after_onset_ms, rate), .length = Length(1.0)}};
}

} // namespace

TEST_CASE("a tap is clipped by what lies between its onset and 35 ms after it") {
    SignalFaults seen;
    for (const auto& [at_ms, clipped] :
         std::vector<std::pair<double, bool>>{{-1.0, false}, {0.5, true}, {34.9, true}, {35.5, false}}) {
        CAPTURE(at_ms);
        seen.clipped = run_at_ms(at_ms);
        const TapFaults faults = faults_of_tap(onset, seen, {}, rate);
        CHECK(faults.clipped == clipped);
        CHECK_FALSE(faults.broken);
    }
}

TEST_CASE("a tap is broken by a hole or a gap from 5 ms before it to 35 ms after it") {
    for (const auto& [at_ms, broken] :
         std::vector<std::pair<double, bool>>{{-5.5, false}, {-4.5, true}, {34.9, true}, {35.5, false}}) {
        CAPTURE(at_ms);
        SignalFaults seen;
        CHECK(faults_of_tap(onset, seen, run_at_ms(at_ms), rate).broken == broken);
        seen.dropouts = run_at_ms(at_ms);
        const TapFaults faults = faults_of_tap(onset, seen, {}, rate);
        CHECK(faults.broken == broken);
        CHECK_FALSE(faults.clipped);
    }
}

TEST_CASE("each fault is said, and none where there is none") {
    CHECK(reasons_of({}).empty());
    CHECK_FALSE(TapFaults{}.any());
    CHECK(TapFaults{.clipped = true}.any());
    CHECK(TapFaults{.broken = true}.any());
    CHECK(reasons_of({.clipped = true, .broken = true}) ==
          std::vector<std::string>{"clipped: its loudest part was cut off",
                                   "samples are missing in it, so it cannot be timed"});
}
