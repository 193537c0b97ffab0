#include "audio/sound_file.hpp"

#include "made_sounds.hpp"
#include "temp_folder.hpp"

#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <doctest/doctest.h>
#include <limits>
#include <sys/stat.h>
#include <unistd.h>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

std::string wav_text(const Sound& sound, SoundFormat format = SoundFormat::wav_24) {
    return as_text(encode_sound(sound, format));
}

/// Stands a little-endian number into `text`.
void put_number(std::string& text, std::size_t at, std::uint32_t value, std::size_t size = 4) {
    for (std::size_t i = 0; i < size; ++i) {
        text.at(at + i) = static_cast<char>((value >> (8U * i)) & 0xFFU);
    }
}

/// What reading all of `bytes`, saved as `name`, is refused with; the folder is cut from the message.
std::string refusal_of(const std::string& name, const std::string& bytes, const ChannelChoice& choice = {}) {
    const TempFolder folder;
    put_bytes(folder / name, bytes);
    std::string message = refusal([&] { (void)read_sound(folder / name, choice); });
    if (const auto at = message.find(folder.path().string() + "/"); at != std::string::npos) {
        message.erase(at, folder.path().string().size() + 1);
    }
    return message;
}

} // namespace

TEST_CASE("a float WAV gives back its samples bit for bit, from one and two channels and any rate that is allowed") {
    const TempFolder folder;
    for (const int channels : {1, 2}) {
        for (const double rate : {8000.0, 11025.0, 44100.0, 48000.0, 96000.0, 192000.0}) {
            const Sound sound = noise_sound(rate, channels, 1000);
            write_sound(folder / "float.wav", sound, SoundFormat::wav_float);
            SoundReader reader(folder / "float.wav");
            CHECK(reader.sample_rate_hz() == rate);
            CHECK(reader.channels() == channels);
            CHECK(reader.frames() == 1000);
            CHECK(read_sound(folder / "float.wav").interleaved == sound.interleaved);
        }
    }
}

TEST_CASE("blocks of any size put together give the whole") {
    const TempFolder folder;
    const Sound sound = noise_sound(48000.0, 2, 5000);
    write_sound(folder / "take.flac", sound, SoundFormat::flac_24);
    const Sound whole = read_sound(folder / "take.flac");
    for (const std::size_t frames : {1U, 7U, 4096U, 5000U, 6000U}) {
        SoundReader reader(folder / "take.flac");
        std::vector<float> block(2 * frames);
        std::vector<float> together;
        for (std::size_t got = reader.read(block); got > 0; got = reader.read(block)) {
            together.insert(together.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(2 * got));
        }
        CHECK(together == whole.interleaved);
        CHECK(reader.read(block) == 0);
    }
}

TEST_CASE("sixteen-bit samples come as sixteenth-bit fractions of full scale") {
    // RIFF by hand: 3 samples -32768, 1, 32767; full scale is 32768.
    std::string wav("RIFF\x2a\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0\x80\xbb\0\0\0\x77\x01\0\x02\0\x10\0data\x06\0\0\0"
                    "\x00\x80\x01\x00\xff\x7f",
                    50);
    const Sound sound = read_sound(std::as_bytes(std::span(wav)), "by hand");
    REQUIRE(sound.interleaved.size() == 3);
    CHECK(sound.interleaved[0] == -1.0F);
    CHECK(sound.interleaved[1] == 1.0F / 32768.0F);
    CHECK(sound.interleaved[2] == 32767.0F / 32768.0F);
}

TEST_CASE("of a file with four channels the chosen ones are read, in the order asked for") {
    const TempFolder folder;
    const Sound sound = noise_sound(48000.0, 4, 100);
    write_sound(folder / "four.wav", sound, SoundFormat::wav_float);
    const Sound one = read_sound(folder / "four.wav", {.numbers = {3}});
    const Sound two = read_sound(folder / "four.wav", {.numbers = {4, 1}});
    REQUIRE(one.channels == 1);
    REQUIRE(two.channels == 2);
    for (std::size_t frame = 0; frame < 100; ++frame) {
        CHECK(one.interleaved[frame] == sound.interleaved[4 * frame + 2]);
        CHECK(two.interleaved[2 * frame] == sound.interleaved[4 * frame + 3]);
        CHECK(two.interleaved[2 * frame + 1] == sound.interleaved[4 * frame]);
    }
}

TEST_CASE("more than two channels are refused unless one or two are chosen") {
    const std::string four = wav_text(noise_sound(48000.0, 4, 100));
    CHECK(
        refusal_of("four.wav", four) ==
        "Cannot use 'four.wav': it has 4 channels, and which of them are the pick-ups is not known. Choose one, or two "
        "as left and right (--channels 1 or --channels 1,2).");
    CHECK(refusal_of("four.wav", four, {.numbers = {5}}) ==
          "Cannot use 'four.wav': channel 5 was asked for, but it has 4. Choose from those.");
    CHECK(refusal_of("four.wav", four, {.numbers = {0}}) ==
          "Cannot use 'four.wav': channel 0 was asked for, but it has 4. Choose from those.");
    CHECK(refusal_of("four.wav", four, {.numbers = {2, 2}}) ==
          "Cannot use 'four.wav': channel 2 was asked for as left and as right. Choose two different ones, or one.");
    CHECK(refusal_of("four.wav", four, {.numbers = {1, 2, 3}}) ==
          "Cannot use 'four.wav': 3 channels were asked for. Choose one, or two as left and right.");
}

TEST_CASE("what is not there, not a file or not readable is refused in one sentence each") {
    const TempFolder folder;
    const auto at = [&](const std::string& name) { return "'" + (folder / name).string() + "'"; };
    CHECK(refusal([&] { SoundReader reader(folder / "missing.wav"); }) ==
          "Cannot read " + at("missing.wav") + ": there is no such file. Check the name and the folder.");
    std::filesystem::create_directory(folder / "folder.wav");
    CHECK(refusal([&] { SoundReader reader(folder / "folder.wav"); }) ==
          "Cannot read " + at("folder.wav") + ": it is a folder. Name one sound file in it.");
    REQUIRE(mkfifo((folder / "pipe.wav").c_str(), 0600) == 0);
    CHECK(refusal([&] { SoundReader reader(folder / "pipe.wav"); }) ==
          "Cannot read " + at("pipe.wav") + ": it is not an ordinary file. Save the sound to a file first.");
    put_bytes(folder / "locked.wav", wav_text(noise_sound(48000.0, 1, 10)));
    std::filesystem::permissions(folder / "locked.wav", std::filesystem::perms::none);
    // Root may read anything: become somebody else for the moment.
    std::filesystem::permissions(folder.path(), std::filesystem::perms::all);
    const bool was_root = geteuid() == 0;
    REQUIRE((!was_root || seteuid(65534) == 0));
    const std::string locked = refusal([&] { SoundReader reader(folder / "locked.wav"); });
    REQUIRE((!was_root || seteuid(0) == 0));
    CHECK(locked == "Cannot read " + at("locked.wav") +
                        ": Permission denied. Ask for the right to read it, or copy it to a folder of yours.");
}

TEST_CASE("an empty file, a text and a sound without samples are refused") {
    CHECK(refusal_of("empty.wav", "") == "Cannot read 'empty.wav': the file is empty. Record or copy it again.");
    CHECK(refusal_of("text.wav", "Dear colleague, please find the recording attached.\n") ==
          "Cannot use 'text.wav': it is not a sound file that can be read (WAV, FLAC, AIFF, OGG and MP3 are). Save it "
          "as WAV or "
          "FLAC.");
    CHECK(refusal_of("no_frames.wav", wav_text(noise_sound(48000.0, 1, 0))) ==
          "Cannot use 'no_frames.wav': it holds no sound at all. Record it again.");
    CHECK(refusal_of("one_byte.wav", "R").starts_with("Cannot use 'one_byte.wav': it is not a sound file"));
}

TEST_CASE("rates outside 8 to 192 kHz are refused, those at the edges are not") {
    CHECK(
        refusal_of("slow.wav", wav_text(noise_sound(7999.0, 1, 10))) ==
        "Cannot use 'slow.wav': its sample rate is 7999 Hz; rates from 8000 to 192000 Hz can be used. Record at 48000 "
        "Hz.");
    CHECK(refusal_of("fast.wav", wav_text(noise_sound(192001.0, 1, 10))).find("192001 Hz") != std::string::npos);
    CHECK(refusal_of("8k.wav", wav_text(noise_sound(8000.0, 1, 10))) == "(not refused)");
    CHECK(refusal_of("192k.wav", wav_text(noise_sound(192000.0, 1, 10))) == "(not refused)");
}

TEST_CASE("a WAV that lost its end is refused, whatever is left of it") {
    // 44 bytes of header, 1000 frames of 3 bytes.
    const std::string whole = wav_text(noise_sound(48000.0, 1, 1000));
    REQUIRE(whole.size() == 3044);
    CHECK(
        refusal_of("truncated.wav", whole.substr(0, 1544)) ==
        "Cannot use 'truncated.wav': its header promises 3000 bytes of sound but only 1500 are there; it was cut short "
        "or never finished. Copy or record it again.");
    for (std::size_t size = 1; size < whole.size(); size += 37) {
        CAPTURE(size);
        CHECK(refusal_of("truncated.wav", whole.substr(0, size)) != "(not refused)");
    }
    CHECK(refusal_of("whole.wav", whole) == "(not refused)");
}

TEST_CASE("a FLAC that lost its end is refused") {
    const std::string whole = wav_text(noise_sound(48000.0, 1, 20000), SoundFormat::flac_24);
    const std::string message = refusal_of("truncated.flac", whole.substr(0, whole.size() / 2));
    CAPTURE(message);
    CHECK(message.starts_with("Cannot use 'truncated.flac': it ends after 0."));
    CHECK(message.ends_with(
        "though its header says 0.416667 s; it was cut short or is damaged. Copy or record it again."));
}

TEST_CASE("a header that promises gigabytes is refused before any memory is claimed for them") {
    std::string wav = wav_text(noise_sound(48000.0, 1, 100));
    put_number(wav, 40, 0xFFFFFFF0U);
    CHECK(refusal_of("huge_header.wav", wav) == "Cannot use 'huge_header.wav': its header promises 4294967280 bytes of "
                                                "sound but only 300 are there; it was cut "
                                                "short or never finished. Copy or record it again.");
    std::string crowd = wav_text(noise_sound(48000.0, 1, 100));
    put_number(crowd, 22, 0xFFFFU, 2);
    CHECK(refusal_of("many_channels.wav", crowd) != "(not refused)");
}

TEST_CASE("an AIFF that lost its end is refused") {
    // By hand, big-endian: FORM, COMM (1 channel, 4 frames, 16 bits, 48000 Hz as an 80-bit float), SSND of 8 + 8 bytes.
    const std::string whole("FORM\0\0\0\x36"
                            "AIFFCOMM\0\0\0\x12\0\x01\0\0\0\x04\0\x10\x40\x0e\xbb\x80\0\0\0\0\0\0"
                            "SSND\0\0\0\x10\0\0\0\0\0\0\0\0\x10\0\x20\0\x30\0\x40\0",
                            62);
    CHECK(refusal_of("whole.aiff", whole) == "(not refused)");
    CHECK(refusal_of("truncated.aiff", whole.substr(0, 58)).find("promises 16 bytes of sound but only 12") !=
          std::string::npos);
}

TEST_CASE("samples that are no numbers or far beyond full scale are refused with their time") {
    Sound sound = noise_sound(48000.0, 2, 4800);
    const auto with = [&](float bad) {
        Sound copy = sound;
        copy.interleaved[2 * 1200 + 1] = bad; // frame 1200 at 48 kHz: 25 ms
        return refusal_of("bad_sample.wav", wav_text(copy, SoundFormat::wav_float));
    };
    CHECK(
        with(std::numeric_limits<float>::quiet_NaN()) ==
        "Cannot use 'bad_sample.wav': a sample is not a number (at 0.025000 s); the file is damaged or was saved with "
        "the wrong scale. Save or record it again.");
    CHECK(with(std::numeric_limits<float>::infinity()).find("not a number (at 0.025000 s)") != std::string::npos);
    CHECK(with(-std::numeric_limits<float>::infinity()).find("not a number (at 0.025000 s)") != std::string::npos);
    CHECK(with(-32768.0F).find("more than 100 times full scale (at 0.025000 s)") != std::string::npos);
    CHECK(with(1.5F) == "(not refused)");
}

TEST_CASE("random bytes behind a good beginning never crash the reader nor hang it") {
    std::mt19937 engine(20240611);
    const std::string wav = wav_text(noise_sound(48000.0, 1, 500));
    const std::string flac = wav_text(noise_sound(48000.0, 1, 500), SoundFormat::flac_24);
    int refused = 0;
    for (int round = 0; round < 300; ++round) {
        std::string bytes = round % 2 == 0 ? wav : flac;
        for (int change = 0; change < 4; ++change) {
            bytes.at(engine() % std::min<std::size_t>(bytes.size(), 120)) = static_cast<char>(engine() & 0xFFU);
        }
        refused += refusal([&] { (void)read_sound(std::as_bytes(std::span(bytes)), "broken"); }) != "(not refused)";
    }
    CHECK(refused > 50);
}
