#include "audio/joined_sound.hpp"

#include "audio/inspect_file.hpp"
#include "known_take.hpp"

#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

TEST_CASE("a tap across a join is not timed, a pause is no fault and a gap is one") {
    const KnownTake made = known_take({});
    const auto at = static_cast<std::uint64_t>((made.onsets_s[2] + 0.005) * 48000.0); // within the third tap
    for (const auto kind : {Join::Kind::pause, Join::Kind::gap}) {
        Sound sound = made.sound;
        sound.comment = write_note({.joins = {{.at_frame = at, .kind = kind, .missing_frames = 100}}});
        const dsp::TakeAnalysis take = inspect_sound(sound, "joined");
        REQUIRE(take.taps.size() == made.onsets_s.size());
        for (std::size_t tap = 0; tap < take.taps.size(); ++tap) {
            CAPTURE(tap);
            CHECK(take.taps[tap].usable == (tap != 2));
        }
        CHECK(take.fitness.dropouts == (kind == Join::Kind::gap ? 1 : 0));
    }
}

TEST_CASE("gaps that the note had no room for are counted all the same") {
    KnownTake made = known_take({});
    CaptureNote note;
    note.joins_left_out = 5;
    made.sound.comment = write_note(note);
    CHECK(inspect_sound(made.sound, "many gaps").fitness.dropouts == 5);
}
