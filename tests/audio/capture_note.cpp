#include "audio/capture_note.hpp"

#include "audio/sound_file.hpp"
#include "audio/sound_writer.hpp"
#include "temp_folder.hpp"

#include <cstddef>
#include <doctest/doctest.h>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;

namespace {

CaptureNote example(std::size_t joins) {
    CaptureNote note{.take_id = "ab12",
                     .device = "Pick-up: left\nand right",
                     .started = "2031-05-14 10:32:07",
                     .ended_by = "enough taps",
                     .kept_everything = true,
                     .recovered = true,
                     .lost_frames = 512,
                     .device_overflows = 3,
                     .joins = {},
                     .warnings = {"The gain moves.", "It is noisy."}};
    for (std::size_t i = 0; i < joins; ++i) {
        note.joins.push_back({.at_frame = 1000 * (i + 1),
                              .kind = i % 2 == 0 ? Join::Kind::pause : Join::Kind::gap,
                              .missing_frames = i});
    }
    return note;
}

void check_same(const CaptureNote& a, const CaptureNote& b) {
    CHECK(a.take_id == b.take_id);
    CHECK(a.device == b.device);
    CHECK(a.started == b.started);
    CHECK(a.ended_by == b.ended_by);
    CHECK(a.kept_everything == b.kept_everything);
    CHECK(a.recovered == b.recovered);
    CHECK(a.lost_frames == b.lost_frames);
    CHECK(a.device_overflows == b.device_overflows);
    CHECK(a.joins == b.joins);
    CHECK(a.warnings == b.warnings);
}

} // namespace

TEST_CASE("a note reads back as it was written") {
    const auto back = read_note(write_note(example(3)));
    REQUIRE(back.has_value());
    check_same(*back, example(3));
}

TEST_CASE("comments of others are no notes") {
    CHECK_FALSE(read_note("").has_value());
    CHECK_FALSE(read_note("made by hand: yes").has_value());
    CHECK_FALSE(read_note("retap capture: 2\ntake: x\n").has_value());
}

TEST_CASE("a note with more joins than there is room for says how many it leaves out, and still travels inside files") {
    const test::TempFolder folder;
    CaptureNote note = example(2000);
    note.device = std::string(99, 'x') + "\xC3\xA9 and much more"; // the cut falls inside a two-byte character
    const auto cut = read_note(write_note(note));
    REQUIRE(cut.has_value());
    CHECK(cut->device == std::string(99, 'x'));
    CHECK(cut->joins.size() > 50);
    CHECK(cut->joins.size() + cut->joins_left_out == 2000);
    CHECK(cut->joins ==
          std::vector<Join>(note.joins.begin(), note.joins.begin() + static_cast<long>(cut->joins.size())));
    for (const char* name : {"take.wav", "take.flac"}) {
        CAPTURE(name);
        const std::vector<float> samples = {0.0F, 0.5F, -0.25F, 1.0F / 8388608.0F};
        SoundWriter writer(folder / name, 48000.0, 1, format_for(name));
        writer.set_comment(write_note(note));
        writer.write(samples);
        writer.commit();
        const Sound back = read_sound(folder / name);
        CHECK(back.interleaved == samples);
        CHECK(back.comment == write_note(note));
    }
}

TEST_CASE("a take carried in memory keeps its note") {
    Sound sound{
        .sample_rate_hz = 44100.0, .channels = 1, .interleaved = {0.5F, 0.25F}, .comment = write_note(example(2))};
    const auto bytes = encode_sound(sound, SoundFormat::wav_24);
    CHECK(read_sound(bytes, "take").comment == sound.comment);
}

TEST_CASE("numbers that no recording has are kept within what can be counted") {
    const auto note = read_note("retap capture: 1\nlost frames: 1e300\ndevice overflows: -7e44\njoins left out: 7e44\n"
                                "joins: 10 gap 3; -1 gap 5; 20 pause 4\n");
    REQUIRE(note.has_value());
    CHECK(note->lost_frames == 1'000'000'000'000'000U);
    CHECK(note->device_overflows == 0);
    CHECK(note->joins_left_out == 1'000'000'000'000'000U);
    CHECK(note->joins == std::vector<Join>{{.at_frame = 10, .kind = Join::Kind::gap, .missing_frames = 3}});
}
