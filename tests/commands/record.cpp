// `retap record` from end to end: what is played into the virtual microphone is what a take holds.
#include "audio/inspect_file.hpp"
#include "audio/known_take.hpp"
#include "program_recording.hpp"
#include "virtual_audio.hpp"

#include <chrono>
#include <cmath>
#include <csignal>
#include <doctest/doctest.h>
#include <string>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

TEST_CASE("a take starts and stops by itself, says so plainly to a file, and holds the taps that were played") {
    VirtualAudio card;
    const RecordingPlace place(card.folder() / "here");
    const auto recording = run_record(place, {place.take.string(), "--taps", "6"});
    REQUIRE(eventually([&] { return says(place.out, "Listening to 'default' at 48000 Hz."); }));
    const KnownTake played = known_take({});
    const auto player = card.play(played.sound, "mic48");
    CHECK(recording->wait() == 0);
    CHECK(says(place.out, "The first tap was heard.\n"));
    CHECK(says(place.out, "(enough taps)\n6 taps, 6 good\n"));
    CHECK_FALSE(says(place.out, "\033"));
    CHECK_FALSE(says(place.out, "\r"));
    CHECK(bytes_of(place.err).empty());
    CHECK(entries_in(place.takes) == 1);
    CHECK(entries_in(place.journals()) == 0);
    const auto taps = inspect_file(place.take).taps;
    const auto known = inspect_sound(played.sound, "played").taps;
    REQUIRE(taps.size() == known.size());
    for (std::size_t i = 0; i < taps.size(); ++i) {
        CHECK(std::abs((taps[i].onset_s - taps[0].onset_s) - (known[i].onset_s - known[0].onset_s)) < 50e-6);
    }
}

TEST_CASE("a device that is lost while recording ends the program with status 4 and the take up to there") {
    VirtualAudio card;
    const RecordingPlace place(card.folder() / "here");
    const auto recording = run_record(place, {place.take.string(), "--taps", "50"});
    REQUIRE(eventually([&] { return says(place.out, "Listening"); }));
    const auto player = card.play(known_take({}).sound, "mic48");
    REQUIRE(eventually([&] { return says(place.out, "The first tap was heard."); }));
    card.send(SIGKILL);
    CHECK(recording->wait() == 4);
    CHECK(says(place.err, "The device 'default' is gone"));
    CHECK(says(place.err, "The take up to there is kept in '" + place.take.string() + "'."));
    CHECK(!inspect_file(place.take).taps.empty());
}
