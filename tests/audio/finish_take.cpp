#include "audio/finish_take.hpp"

#include "audio/sound_file.hpp"
#include "error.hpp"
#include "made_journal.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>
#include <optional>
#include <span>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

TEST_CASE("a finished take holds the journal's samples, and its note tells where moments meet that did not follow") {
    const TempFolder folder;
    const auto samples = exact_samples(200);
    const std::span<const float> all(samples);
    {
        JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav", "cafe", 2));
        writer.gap(500, 9); // before the first sample: nothing meets here
        writer.samples(500, all.first(60));
        writer.samples(530, all.subspan(60, 20));
        writer.gap(540, 4);
        writer.gap(540, 3);
        writer.samples(540, all.subspan(80, 40));
        writer.samples(900, all.subspan(120, 80)); // 340 frames were not kept
    }
    const auto take = finish_take(folder / "a.journal", std::nullopt, folder / "take.wav",
                                  {.ended_by = "enough taps", .lost_frames = 16});
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
    CHECK_THROWS_WITH_AS(static_cast<void>(finish_take(folder / "a.journal", std::nullopt, folder / "take.wav", {})),
                         doctest::Contains("exists already"), InputError);
    CHECK(bytes_of(folder / "take.wav") == "precious");
    CHECK(folder.entries() == 2); // nothing half-written beside it
}

TEST_CASE("a journal without sound gives no take and no file") {
    const TempFolder folder;
    { const JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav")); }
    CHECK_FALSE(finish_take(folder / "a.journal", std::nullopt, folder / "take.wav", {}).has_value());
    CHECK(folder.entries() == 1);
}

TEST_CASE("only what lies in the spans goes into the take, and the rest is a pause") {
    const TempFolder folder;
    const auto samples = exact_samples(100);
    {
        JournalWriter writer(folder / "a.journal", head_for(folder / "take.wav"));
        writer.samples(1000, std::span(samples).first(45));
        writer.gap(1045, 5); // between the spans
        writer.tap(1020);
        writer.samples(1045, std::span(samples).subspan(45));
    }
    const std::vector<Span> spans = {
        {.begin = 990, .end = 1030}, {.begin = 1060, .end = 1090}, {.begin = 1200, .end = 1210}};
    const auto take = finish_take(folder / "a.journal", spans, folder / "take.wav", {});
    REQUIRE(take.has_value());
    std::vector<float> expected(samples.begin(), samples.begin() + 30);
    expected.insert(expected.end(), samples.begin() + 60, samples.begin() + 90);
    CHECK(read_sound(folder / "take.wav").interleaved == expected);
    CHECK(take->note.joins == std::vector<Join>{{.at_frame = 30, .kind = Join::Kind::pause, .missing_frames = 30}});
    CHECK_FALSE(finish_take(folder / "a.journal", std::vector<Span>{}, folder / "none.wav", {}).has_value());
    CHECK(folder.entries() == 2);
}
