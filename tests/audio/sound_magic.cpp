#include "audio/sound_magic.hpp"

#include "audio/sound_writer.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace retap::audio;
using namespace retap::test;

TEST_CASE("a sound is known by how it begins, whatever it is called") {
    const TempFolder folder;
    const Sound sound{.sample_rate_hz = 48000.0, .interleaved = std::vector<float>(480, 0.1F)};
    write_sound(folder / "a.html", sound, SoundFormat::wav_24);
    write_sound(folder / "b", sound, SoundFormat::flac_24);
    CHECK(sound_kind(folder / "a.html") == "WAV");
    CHECK(sound_kind(folder / "b") == "FLAC");
    // ISO/IEC 14496-12: a file begins with a box of type 'ftyp'; RFC 4867, 5.1: the magic number of AMR; RFC 8794: the
    // EBML header of Matroska and WebM; RFC 3533: the capture pattern of Ogg; 14496-3: the sync word of ADTS.
    put_bytes(folder / "c.mp4", std::string("\0\0\0\x18"
                                            "ftypM4A ",
                                            12));
    put_bytes(folder / "d.amr", "#!AMR\n\x3c");
    put_bytes(folder / "e.webm", "\x1a\x45\xdf\xa3\x9f");
    put_bytes(folder / "f.oga", "OggS\x01");
    put_bytes(folder / "g.aac", "\xff\xf1\x50\x80");
    put_bytes(folder / "h.mp3", "\xff\xfb\x90\x64");
    CHECK(sound_kind(folder / "c.mp4") == "MP4");
    CHECK(sound_kind(folder / "d.amr") == "AMR");
    CHECK(sound_kind(folder / "e.webm") == "WebM");
    CHECK(sound_kind(folder / "f.oga") == "OGG");
    CHECK(sound_kind(folder / "g.aac") == "AAC");
    CHECK(sound_kind(folder / "h.mp3") == "MP3");
}

TEST_CASE("what is no sound is none: text, a table, an empty file, a folder, nothing") {
    const TempFolder folder;
    put_bytes(folder / "report.html", "<!DOCTYPE html>");
    put_bytes(folder / "take.wav", "not a sound");
    put_bytes(folder / "empty.wav", "");
    put_bytes(folder / "short", "RI");
    put_bytes(folder / "utf16.txt", "\xff\xfe"
                                    "a");
    for (const char* name : {"report.html", "take.wav", "empty.wav", "short", "utf16.txt", "missing.wav", "."}) {
        CAPTURE(name);
        CHECK_FALSE(sound_kind(folder / name).has_value());
    }
}
