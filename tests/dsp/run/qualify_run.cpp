#include "dsp/run/qualify_run.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
#include <span>
#include <vector>

using namespace retap::dsp;

namespace {

FoundEvent tap_at(double seconds, double loudness_db) {
    FoundEvent event{.onset = Position(seconds * 48000.0), .is_tap = true, .reason = {}, .shape = {}};
    event.shape.loudness = Level(loudness_db);
    event.shape.octaves = 4;
    event.shape.prominence = 1e4 * event.shape.loudness.power(); // of a steady background 40 dB below full scale
    event.shape.pattern.level_db.fill(loudness_db - 25.0);       // where nothing is heard
    for (std::size_t octave = 0; octave < 4; ++octave) {         // all in the attack
        event.shape.pattern.level_db.at(octave) = loudness_db;
        event.shape.pattern.heard.at(octave) = true;
    }
    return event;
}

/// Octaves by turns above and below those of tap_at(): at pattern_distance `db` from it.
FoundEvent other_tone_at(double seconds, double db) {
    FoundEvent event = tap_at(seconds, -20.0);
    for (std::size_t octave = 0; octave < 4; ++octave) {
        event.shape.pattern.level_db.at(octave) += octave % 2 == 0 ? db : -db;
    }
    return event;
}

std::vector<FoundEvent> six_events() {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 6; ++i) {
        events.push_back(tap_at(0.4 * i, -20.0));
    }
    return events;
}

} // namespace

TEST_CASE("three loud and three soft taps 14.5 dB apart lie 7.25 dB from their middle, and all stay") {
    // 14 dB from the median are allowed. The median of six is the mean of the two middle ones, -17.25 dB; the upper of
    // the two, -10 dB, would lose the soft half.
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 6; ++i) {
        events.push_back(tap_at(0.4 * i, i % 2 == 0 ? -10.0 : -24.5));
    }
    qualify_run(events, SampleRate(48000.0), {});
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 6);
}

TEST_CASE("one event 20 dB above a run of six is turned down for its level") {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 7; ++i) {
        events.push_back(tap_at(0.4 * i, i == 3 ? 0.0 : -20.0));
    }
    qualify_run(events, SampleRate(48000.0), {});
    CHECK_FALSE(events[3].is_tap);
    CHECK(events[3].reason == NoTap::level_apart);
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 6);
}

TEST_CASE("an event that does not convince by itself is a tap when it fits the run") {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 6; ++i) {
        events.push_back(tap_at(0.4 * i, -20.0));
    }
    events[2].is_tap = false;
    events[2].reason = NoTap::too_soft;
    qualify_run(events, SampleRate(48000.0), {});
    CHECK(events[2].is_tap);
    CHECK_FALSE(events[2].reason);
}

TEST_CASE("what cannot be a tap stays turned down for its own reason") {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 6; ++i) {
        events.push_back(tap_at(0.4 * i, -20.0));
    }
    events[2].is_tap = events[2].could_be_tap = false;
    events[2].reason = NoTap::overshadowed;
    qualify_run(events, SampleRate(48000.0), {});
    CHECK_FALSE(events[2].is_tap);
    CHECK(events[2].reason == NoTap::overshadowed);
}

TEST_CASE("a sound of another tone off the beat is turned down, the taps around it stay") {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 8; ++i) {
        events.push_back(tap_at(i < 4 ? 0.4 * i : 0.4 * (i - 1), -20.0));
    }
    events[3].onset = Position(48000.0 * 4.0); // long after
    std::rotate(events.begin() + 3, events.begin() + 4, events.end());
    events.back().shape.pattern.level_db[0] = -50.0;
    events.back().shape.pattern.level_db[5] = -20.0;
    events.back().shape.pattern.heard[5] = true;
    qualify_run(events, SampleRate(48000.0), {});
    CHECK_FALSE(events.back().is_tap);
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 7);
}

TEST_CASE("like events that hardly stand out of a restless background are a run only on a steady beat") {
    const std::vector<double> uneven_s{0.0, 0.25, 1.0, 1.3, 2.1, 2.3};
    for (const bool steady : {true, false}) {
        std::vector<FoundEvent> events;
        events.reserve(9);
        for (std::size_t i = 0; i < 6; ++i) {
            events.push_back(tap_at(steady ? 0.4 * static_cast<double>(i) : uneven_s[i], -20.0));
            events.back().shape.prominence = 5.0;
            events.back().is_tap = false;
            events.back().reason = NoTap::too_soft;
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(steady);
        CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == (steady ? 6 : 0));
    }
}

TEST_CASE("taps of two kinds are one run when together they keep one beat, and two sounds when not") {
    for (const std::vector<double>& second_s :
         {std::vector<double>{1.6, 2.0, 2.4, 2.8}, std::vector<double>{1.75, 1.95, 2.7, 2.9}}) {
        std::vector<FoundEvent> events;
        events.reserve(9);
        for (int i = 0; i < 4; ++i) {
            events.push_back(tap_at(0.4 * i, -20.0));
        }
        for (const double at_s : second_s) { // another tone, 15 dB softer, as sudden
            events.push_back(tap_at(at_s, -35.0));
            events.back().shape.prominence = events.front().shape.prominence;
            events.back().shape.pattern.level_db[0] = -55.0;
            events.back().shape.pattern.level_db[4] = -30.0;
            events.back().shape.pattern.heard[4] = true;
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(second_s.front());
        CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) ==
              (second_s.front() == 1.6 ? 8 : 4));
    }
}

// In the next two an event d dB from the taps, all of which are alike, is worth (ln(d / 11.2 dB) / 0.3)^2 / 2
// - (ln(d / 2 dB) / 0.5)^2 / 2: 0.6 - 3.8 at 8 dB, 3.6 - 1.7 at 5 dB; 11.2 dB is 1.2 times the spread of their pattern,
// four cells 25 dB above twenty. Between two taps it makes one step over two intervals, worth 1.5 - 3, into two steps
// worth 1.5: it may cost 4.5. After the end of the run it may cost 1.5, and off the beat nothing.

TEST_CASE("between two taps of the run more may be odd than after its end") {
    std::vector<FoundEvent> among = six_events();
    among[3] = other_tone_at(1.2, 8.0);
    qualify_run(among, SampleRate(48000.0), {});
    CHECK(among[3].is_tap);
    std::vector<FoundEvent> after = six_events();
    after.push_back(other_tone_at(2.4, 8.0));
    qualify_run(after, SampleRate(48000.0), {});
    CHECK_FALSE(after.back().is_tap);
    CHECK(after.back().reason == NoTap::unlike);
}

TEST_CASE("on the beat of the run more may be odd than off it") {
    std::vector<FoundEvent> on = six_events();
    on.push_back(other_tone_at(2.4, 5.0));
    qualify_run(on, SampleRate(48000.0), {});
    CHECK(on.back().is_tap);
    std::vector<FoundEvent> off = six_events();
    off.push_back(other_tone_at(2.24, 5.0));
    qualify_run(off, SampleRate(48000.0), {});
    CHECK_FALSE(off.back().is_tap);
}

TEST_CASE("a second kind of sound that is far less sudden than the taps is no tap, on the beat or not") {
    for (const double prominence_part : {1.0, 0.02}) {
        std::vector<FoundEvent> events;
        events.reserve(9);
        for (int i = 0; i < 8; ++i) {
            events.push_back(i % 2 == 0 ? tap_at(0.4 * i, -20.0) : other_tone_at(0.4 * i, 12.0));
            events.back().shape.prominence *= i % 2 == 0 ? 1.0 : prominence_part;
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(prominence_part);
        CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) ==
              (prominence_part == 1.0 ? 8 : 4));
    }
}

TEST_CASE("a tray on which things are put down holds no taps, however sudden they are") {
    const std::vector<double> at_s{0.0, 0.31, 0.9, 1.7, 1.83, 2.9};
    const std::vector<double> tone_db{0.0, 7.0, -6.0, 14.0, -13.0, 20.0}; // 6 dB or more apart, as unlike impacts are
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (std::size_t i = 0; i < at_s.size(); ++i) {
        events.push_back(other_tone_at(at_s[i], tone_db[i]));
    }
    qualify_run(events, SampleRate(48000.0), {});
    for (const FoundEvent& event : events) {
        CHECK_FALSE(event.is_tap);
        CHECK(event.reason == NoTap::strangers);
    }
}

TEST_CASE("taps by turns loud and soft are all found, whichever half of them founds the run") {
    // Seven decibels apart and 6 dB in tone: the founders are one half, twice as far apart as the taps are.
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 8; ++i) {
        events.push_back(i % 2 == 0 ? tap_at(0.4 * i, -20.0) : other_tone_at(0.4 * i, 6.0));
        events.back().shape.loudness = Level(i % 2 == 0 ? -20.0 : -27.0);
    }
    qualify_run(events, SampleRate(48000.0), {});
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 8);
}

TEST_CASE("two sounds long after the run are taps when they are like them, three also when somewhat unlike") {
    struct Later {
        int more;
        double odd_db;
        bool kept;
    };
    for (const Later& later : {Later{2, 0.0, true}, Later{2, 8.0, false}, Later{3, 5.5, true}}) {
        std::vector<FoundEvent> events = six_events();
        for (int i = 0; i < later.more; ++i) {
            events.push_back(other_tone_at(6.0 + 0.4 * i, i % 2 == 0 ? later.odd_db : -later.odd_db));
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(later.more);
        CAPTURE(later.odd_db);
        CHECK(events.back().is_tap == later.kept);
    }
}

TEST_CASE("two like sounds long after the run do not vouch for each other") {
    const auto kept = [](double odd_db, int others) {
        std::vector<FoundEvent> events = six_events();
        events.push_back(other_tone_at(6.0, odd_db));
        events.push_back(other_tone_at(6.4, odd_db));
        for (int i = 0; i < others; ++i) { // much else goes on before the taps
            events.insert(events.begin(), other_tone_at(-3.0 - 0.7 * i, 16.0 + 5.0 * i));
        }
        qualify_run(events, SampleRate(48000.0), {});
        return std::ranges::count_if(std::span(events).last(2), [](const FoundEvent& e) { return e.is_tap; });
    };
    for (const int others : {0, 4}) {
        CAPTURE(others);
        CHECK(kept(0.0, others) == 2);
        CHECK(kept(7.0, others) == 0);
    }
}

TEST_CASE("two sounds somewhat unlike the taps, a pause after them, are turned down for standing apart") {
    std::vector<FoundEvent> events = six_events();
    events.push_back(other_tone_at(6.0, 6.0));
    events.push_back(other_tone_at(6.4, 6.0));
    for (int i = 0; i < 10; ++i) { // as in a room where much else goes on before
        events.insert(events.begin(), other_tone_at(-3.0 - 0.7 * i, 16.0 + 5.0 * (i % 7)));
    }
    qualify_run(events, SampleRate(48000.0), {});
    for (const FoundEvent& event : std::span(events).last(2)) {
        CHECK_FALSE(event.is_tap);
        CHECK(event.reason == NoTap::stands_apart);
    }
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 6);
}

TEST_CASE("what follows the taps and is somewhat unlike them is one where nothing else is heard, and none on a tray") {
    for (const bool tray : {false, true}) {
        std::vector<FoundEvent> events = six_events();
        events.push_back(other_tone_at(2.4, 7.0));
        for (int i = 0; tray && i < 3; ++i) {
            events.push_back(other_tone_at(2.6 + 0.5 * i, 18.0 + 3.0 * i));
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(tray);
        CHECK(events[6].is_tap == !tray);
    }
}

TEST_CASE("sounds that say little are taps on a beat as even as people keep it, and not on one as uneven as chance") {
    const std::vector<double> tone_db{0.0, 13.0, -11.0, 6.0, -8.0, 17.0, -15.0, 2.0};
    for (const double uneven : {0.02, 0.11}) {
        std::vector<FoundEvent> events;
        events.reserve(9);
        double at_s = 0.0;
        for (std::size_t i = 0; i < tone_db.size(); ++i) {
            events.push_back(other_tone_at(at_s, tone_db[i]));
            at_s += 0.4 * (1.0 + (i % 2 == 0 ? uneven : -uneven));
            events.back().is_tap = i % 2 == 0;
            events.back().reason = i % 2 == 0 ? std::nullopt : std::optional(NoTap::restless);
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(uneven);
        CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == (uneven < 0.1 ? 8 : 0));
    }
}

TEST_CASE("who keeps no beat is heard when every tap convinces by itself") {
    const std::vector<double> at_s{0.0, 0.35, 1.5, 2.1, 3.5, 3.9, 5.2, 5.7};
    const std::vector<double> tone_db{0.0, 1.0, -1.0, 0.5, 1.5, -0.5, 0.0, -1.5};
    for (const bool convincing : {true, false}) {
        std::vector<FoundEvent> events;
        events.reserve(9);
        for (std::size_t i = 0; i < at_s.size(); ++i) {
            events.push_back(other_tone_at(at_s[i], tone_db[i]));
            if (!convincing) {
                events.back().is_tap = false;
                events.back().reason = NoTap::among_talk;
            }
        }
        qualify_run(events, SampleRate(48000.0), {});
        CAPTURE(convincing);
        CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == (convincing ? 8 : 0));
    }
}

TEST_CASE("four loud taps and then four timid ones 20 dB below them are one run") {
    std::vector<FoundEvent> events;
    events.reserve(9);
    for (int i = 0; i < 8; ++i) {
        events.push_back(tap_at(0.4 * i, i < 4 ? -10.0 : -30.0));
    }
    qualify_run(events, SampleRate(48000.0), {});
    CHECK(std::ranges::count_if(events, [](const FoundEvent& e) { return e.is_tap; }) == 8);
}

TEST_CASE("two like events are no run, and stay as they were") {
    std::vector<FoundEvent> events{tap_at(0.0, -20.0), tap_at(0.4, -20.0)};
    qualify_run(events, SampleRate(48000.0), {});
    CHECK(events[0].is_tap);
    CHECK(events[1].is_tap);
}
