#include "audio/around_taps.hpp"

#include "audio/capture_note.hpp"
#include "made_sounds.hpp"
#include "temp_folder.hpp"

#include <array>
#include <doctest/doctest.h>
#include <vector>

using namespace retap::audio;
using namespace retap::test;

TEST_CASE("half a second around each tap is kept, sample for sample, and nothing else") {
    const TempFolder folder;
    const Sound sound = noise_sound(8000.0, 2, 40000); // 5 s
    write_sound(folder / "take.wav", sound, SoundFormat::wav_float);
    // 1.0 and 1.4 s overlap: 0.5 to 1.9 s; 4.0 s stands alone: 3.5 to 4.5 s.
    const std::array onsets{1.0, 1.4, 4.0};
    const auto kept = read_around_taps(folder / "take.wav", onsets);
    REQUIRE(kept);
    CHECK(kept->sample_rate_hz == 8000.0);
    CHECK(kept->channels == 2);
    REQUIRE(kept->interleaved.size() == 2U * (11200 + 8000));
    const std::size_t fade = 40; // 5 ms
    for (std::size_t frame = fade; frame < 11200 - fade; ++frame) {
        REQUIRE(kept->interleaved[2 * frame] == sound.interleaved[2 * (4000 + frame)]);
    }
    for (std::size_t frame = fade; frame < 8000 - fade; ++frame) {
        REQUIRE(kept->interleaved[2 * (11200 + frame) + 1] == sound.interleaved[2 * (28000 + frame) + 1]);
    }
    for (const std::size_t edge : {0U, 11199U, 11200U, 19199U}) {
        CHECK(kept->interleaved[2 * edge] == 0.0F);
    }
}

TEST_CASE("taps at the very start and end keep what there is, and a long run is cut at the limit") {
    const TempFolder folder;
    write_sound(folder / "take.wav", noise_sound(8000.0, 1, 8000), SoundFormat::wav_float);
    const std::array edges{0.0, 1.0};
    CHECK(read_around_taps(folder / "take.wav", edges)->interleaved.size() == 8000);
    const AroundTapsSettings short_one{.longest_s = 0.25};
    CHECK(read_around_taps(folder / "take.wav", edges, {}, short_one)->interleaved.size() == 2000);
}

TEST_CASE("what is kept says where it was joined and where sound was lost, and a foreign comment stays behind") {
    const TempFolder folder;
    Sound sound = noise_sound(8000.0, 1, 40000);
    CaptureNote note{.device = "a pick-up", .lost_frames = 12};
    note.joins = {{.at_frame = 8400, .kind = Join::Kind::gap, .missing_frames = 12}, // 50 ms after the first tap
                  {.at_frame = 20000, .kind = Join::Kind::gap, .missing_frames = 7}, // away from the taps: left out
                  {.at_frame = 32800, .kind = Join::Kind::gap, .missing_frames = 0}};
    sound.comment = write_note(note);
    write_sound(folder / "take.wav", sound, SoundFormat::wav_float);
    const std::array onsets{1.0, 4.0}; // 0.5 to 1.5 s and 3.5 to 4.5 s: frames 4000 to 12000 and 28000 to 36000
    const std::vector<Join> joins{{.at_frame = 4400, .kind = Join::Kind::gap, .missing_frames = 12},
                                  {.at_frame = 8000, .kind = Join::Kind::pause, .missing_frames = 16000},
                                  {.at_frame = 12800, .kind = Join::Kind::gap, .missing_frames = 0}};
    for (const auto& kept : {read_around_taps(folder / "take.wav", onsets), around_taps(sound, onsets)}) {
        REQUIRE(kept);
        const auto said = read_note(kept->comment);
        REQUIRE(said);
        CHECK(said->joins == joins);
        CHECK(said->device == "a pick-up");
        CHECK(said->lost_frames == 12);
    }
    sound.comment = "a name and a date of birth";
    CHECK(read_note(around_taps(sound, onsets)->comment)->joins.size() == 1);
    CHECK(around_taps(sound, std::array{1.0})->comment.empty());
}

TEST_CASE("a sound that is held and one in a file are cut alike") {
    const TempFolder folder;
    const Sound sound = noise_sound(8000.0, 2, 40000);
    write_sound(folder / "take.wav", sound, SoundFormat::wav_float);
    const std::array onsets{0.2, 2.1, 4.9};
    CHECK(around_taps(sound, onsets)->interleaved == read_around_taps(folder / "take.wav", onsets)->interleaved);
}

TEST_CASE("without taps nothing is kept") {
    const TempFolder folder;
    write_sound(folder / "talk.wav", noise_sound(8000.0, 1, 8000), SoundFormat::wav_float);
    CHECK_FALSE(read_around_taps(folder / "talk.wav", {}));
}
