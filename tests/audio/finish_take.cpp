#include "audio/finish_take.hpp"

#include "audio/sound_file.hpp"
#include "error.hpp"
#include "made_journal.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>
#include <span>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

TEST_CASE("a finished take holds the journal's samples, and its note tells where moments meet that did not follow") {
    const TempFolder folder;
    const auto samples = exact_samples(2 * 100);
    const std::span<const float> all(samples);
    {
        JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav", "cafe", 2));
        writer.gap(500, 9); // before the first sample: nothing meets here
        writer.samples(500, all.first(2 * 30));
        writer.samples(530, all.subspan(2 * 30, 2 * 10));
        writer.gap(540, 4);
        writer.gap(540, 3);
        writer.samples(540, all.subspan(2 * 40, 2 * 20));
        writer.samples(900, all.subspan(2 * 60, 2 * 40)); // 340 frames were not kept
    }
    const auto take =
        finish_take(folder / "a.journal", folder / "take.wav", {.ended_by = "enough taps", .lost_frames = 16});
    REQUIRE(take.has_value());
    CHECK(take->duration_s == doctest::Approx(100.0 / 44100.0));
    const Sound sound = read_sound(folder / "take.wav");
    CHECK(sound.interleaved == samples);
    CHECK(sound.sample_rate_hz == 44100.0);
    const auto note = read_note(sound.comment);
    REQUIRE(note.has_value());
    CHECK(note->take_id == "cafe");
    CHECK(note->device == "Pick-up");
    CHECK(note->ended_by == "enough taps");
    CHECK(note->lost_frames == 16);
    CHECK(note->joins == std::vector<Join>{{.at_frame = 40, .kind = Join::Kind::gap, .missing_frames = 7},
                                           {.at_frame = 60, .kind = Join::Kind::pause, .missing_frames = 340}});
}

TEST_CASE("a take is never written over a file that exists") {
    const TempFolder folder;
    { JournalWriter(folder / "a.journal", head_for(folder / "take.wav")).samples(0, exact_samples(10)); }
    put_bytes(folder / "take.wav", "precious");
    CHECK_THROWS_WITH_AS(static_cast<void>(finish_take(folder / "a.journal", folder / "take.wav", {})),
                         doctest::Contains("exists already"), InputError);
    CHECK(bytes_of(folder / "take.wav") == "precious");
    CHECK(folder.entries() == 2); // nothing half-written beside it
}

TEST_CASE("a journal without sound gives no take and no file") {
    const TempFolder folder;
    { const JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav")); }
    CHECK_FALSE(finish_take(folder / "a.journal", folder / "take.wav", {}).has_value());
    CHECK(folder.entries() == 1);
}
