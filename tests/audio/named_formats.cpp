#include "audio/named_formats.hpp"

#include "audio/sound_file.hpp"
#include "made_sounds.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <span>
#include <string_view>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;
using namespace std::string_view_literals;

namespace {

bool named(std::string_view text) {
    return is_named_format(std::as_bytes(std::span(text)));
}

} // namespace

TEST_CASE("the formats that are read are told by how they begin") {
    // The beginnings are those that each format's specification asks for.
    for (const std::string_view text :
         {"RIFF\0\0\0\0WAVE"sv, "RF64\xff\xff\xff\xffWAVE"sv, "fLaC\0\0\0\x22"sv, "OggS\0\x02"sv, "FORM\0\0\0\0AIFF"sv,
          "FORM\0\0\0\0AIFC"sv, "ID3\x04"sv, "\xff\xfb\x90"sv}) {
        CHECK(named(text));
    }
}

TEST_CASE("what a decoder would read as well, and what is no sound, is refused with the list") {
    for (const std::string_view text :
         {""sv, "R"sv, "RIFF\0\0\0\0AVI "sv, ".snd\0\0\0\x18"sv, "Creative Voice File\x1a"sv, "caff\0\x01"sv,
          "riff\x2e\x91\xcf\x11"sv, "IMPS"sv, "FORM\0\0\0\08SVX"sv, " paf"sv, "2BIT"sv, "SOUND\0"sv, "\xff"sv}) {
        CHECK_FALSE(named(text));
    }
    // An AU file of two samples, as the format's own description has it: libsndfile reads it.
    const TempFolder folder;
    put_bytes(folder / "take.au", ".snd\0\0\0\x18\0\0\0\x04\0\0\0\x03\0\0\xbb\x80\0\0\0\x01\0\0\0\0\0\0\0\0"sv);
    const std::string message = refusal([&] { (void)read_sound(folder / "take.au"); });
    CHECK(message.find("WAV, FLAC, AIFF, OGG and MP3 are") != std::string::npos);
}
