#include "dsp/measure/tap_faults.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

const Position fault_onset(48000.0);

struct Case {
    double at_ms; // after the fault_onset
    bool counts;
};

std::vector<SampleRun> run_at_ms(double after_onset_ms) {
    return {{.begin = fault_onset + Length::from_ms(after_onset_ms, analysis_rate), .length = Length(1.0)}};
}

} // namespace

TEST_CASE("a tap is clipped by what lies between its fault_onset and 35 ms after it") {
    SignalFaults seen;
    for (const Case& one : {Case{-1.0, false}, Case{0.5, true}, Case{34.9, true}, Case{35.5, false}}) {
        CAPTURE(one.at_ms);
        seen.clipped = run_at_ms(one.at_ms);
        const TapFaults faults = faults_of_tap(fault_onset, seen, {}, analysis_rate);
        CHECK(faults.clipped == one.counts);
        CHECK_FALSE(faults.broken);
    }
}

TEST_CASE("a tap is broken by a hole or a gap from 5 ms before it to 35 ms after it") {
    for (const Case& one : {Case{-5.5, false}, Case{-4.5, true}, Case{34.9, true}, Case{35.5, false}}) {
        CAPTURE(one.at_ms);
        SignalFaults seen;
        CHECK(faults_of_tap(fault_onset, seen, run_at_ms(one.at_ms), analysis_rate).broken == one.counts);
        seen.dropouts = run_at_ms(one.at_ms);
        const TapFaults faults = faults_of_tap(fault_onset, seen, {}, analysis_rate);
        CHECK(faults.broken == one.counts);
        CHECK_FALSE(faults.clipped);
    }
}

TEST_CASE("each fault is said, and none where there is none") {
    CHECK(reasons_of({}).empty());
    CHECK_FALSE(TapFaults{}.any());
    CHECK(TapFaults{.clipped = true}.any());
    CHECK(TapFaults{.broken = true}.any());
    CHECK(reasons_of({.clipped = true, .broken = true}) == std::vector{Unusable::clipped, Unusable::broken});
}
