#include "dsp/tap_run.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using namespace retap::dsp;

namespace {

FoundEvent tap_at(double seconds, double loudness_db) {
    FoundEvent event{.onset = Position(seconds * 48000.0), .is_tap = true, .reason = {}, .shape = {}};
    event.shape.loudness = Level(loudness_db);
    event.shape.octaves = 4;
    std::fill_n(event.shape.spectrum.begin(), 4, event.shape.loudness.power());
    return event;
}

} // namespace

TEST_CASE("three loud and three soft taps 14.5 dB apart lie 7.25 dB from their middle, and all stay") {
    // 14 dB from the median are allowed. The median of six is the mean of the two middle ones, -17.25 dB; the upper of
    // the two, -10 dB, would lose the soft half.
    std::vector<FoundEvent> events;
    for (int i = 0; i < 6; ++i) {
        events.push_back(tap_at(0.4 * i, i % 2 == 0 ? -10.0 : -24.5));
    }
    qualify_run(events, SampleRate(48000.0));
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 6);
}

TEST_CASE("one event 20 dB above a run of six is turned down for its level") {
    std::vector<FoundEvent> events;
    for (int i = 0; i < 7; ++i) {
        events.push_back(tap_at(0.4 * i, i == 3 ? 0.0 : -20.0));
    }
    qualify_run(events, SampleRate(48000.0));
    CHECK_FALSE(events[3].is_tap);
    CHECK(events[3].reason == "much louder or softer than the taps of the run");
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 6);
}
