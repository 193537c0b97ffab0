// What phones record, as the ffmpeg program of Debian makes it, against the same sound as WAV.
#include "audio/decoder_process.hpp"

#include "audio/around_taps.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "audio/sound_writer.hpp"
#include "child_process.hpp"
#include "made_sounds.hpp"
#include "made_takes.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

/// `ffmpeg -i take.wav OPTIONS... NAME` in `folder`.
void encode(const TempFolder& folder, const std::string& name, const std::vector<std::string>& options) {
    std::vector<std::string> command{"ffmpeg", "-v", "error", "-y", "-i", (folder / "take.wav").string()};
    command.insert(command.end(), options.begin(), options.end());
    command.push_back((folder / name).string());
    REQUIRE(ChildProcess(command).wait() == 0);
}

std::vector<float> one_channel(const Sound& sound) {
    const auto width = static_cast<std::size_t>(sound.channels);
    std::vector<float> mono;
    for (std::size_t i = 0; i < sound.interleaved.size(); i += width) {
        mono.push_back(sound.interleaved[i]);
    }
    return mono;
}

/// By how many samples `later` lags behind `sound`, from 3000 less to 3000 more: where their product is largest. Sums
/// over a second around a tap are enough.
int lag_of(const std::vector<float>& later, const std::vector<float>& sound) {
    constexpr int farthest = 3000;
    constexpr int begin = 24000;
    constexpr int end = begin + 48000;
    int best = -farthest;
    double largest = -1.0;
    for (int lag = -farthest; lag <= farthest; ++lag) {
        double sum = 0.0;
        for (int i = begin; i < end; ++i) {
            sum += static_cast<double>(sound[static_cast<std::size_t>(i)]) *
                   static_cast<double>(later[static_cast<std::size_t>(i + lag)]);
        }
        if (sum > largest) {
            largest = sum;
            best = lag;
        }
    }
    return best;
}

std::string codec_of(const std::filesystem::path& file) {
    return SoundReader(file).codec();
}

struct Format {
    std::string name;
    std::vector<std::string> options;
    std::string codec;
};

} // namespace

TEST_CASE("what phones record stands where it stands in the WAV, to the sample, and says what it went through") {
    REQUIRE(can_decode_phones());
    const TempFolder folder;
    const Sound take = made_take({.taps = 6});
    write_sound(folder / "take.wav", take, SoundFormat::wav_24);
    const std::vector<float> wav = one_channel(take);
    // Encoders put samples ahead that must not be heard: 1024 for AAC, said by an edit list (ISO/IEC 14496-12, 8.6.6);
    // 312 for Opus, said by CodecDelay (RFC 7845 and Matroska).
    for (const Format& format :
         {Format{"a.m4a", {"-c:a", "aac", "-b:a", "128k"}, "AAC"}, Format{"b.mp4", {"-c:a", "aac"}, "AAC"},
          Format{"c.webm", {"-c:a", "libopus"}, "Opus"}, Format{"d.mka", {"-c:a", "libopus"}, "Opus"},
          Format{"e.3gp", {"-c:a", "aac", "-ac", "2"}, "AAC"}}) {
        CAPTURE(format.name);
        encode(folder, format.name, format.options);
        const Sound sound = read_sound(folder / format.name);
        CHECK(codec_of(folder / format.name) == format.codec);
        CHECK(sound.sample_rate_hz == 48000.0);
        const std::vector<float> read = one_channel(sound);
        // An edit list counts in thousandths of a second and may lose up to one of them at the end.
        CHECK(std::abs(static_cast<double>(read.size()) - static_cast<double>(wav.size())) <= 48.0);
        CHECK(lag_of(read, wav) == 0);
    }
}

TEST_CASE("a format that throws nothing away gives the very samples of the WAV and no codec") {
    const TempFolder folder;
    const Sound take = made_take({.channels = 2, .taps = 4});
    write_sound(folder / "take.wav", take, SoundFormat::wav_24);
    encode(folder, "take.m4a", {"-c:a", "alac"});
    const Sound wav = read_sound(folder / "take.wav");
    const Sound m4a = read_sound(folder / "take.m4a");
    CHECK(codec_of(folder / "take.m4a").empty());
    CHECK(m4a.interleaved == wav.interleaved);
}

TEST_CASE("a picture stream is passed over, and one channel of several can be chosen") {
    const TempFolder folder;
    write_sound(folder / "take.wav", made_take({.channels = 2, .taps = 4}), SoundFormat::wav_24);
    encode(folder, "film.mov", {"-f", "lavfi", "-i", "testsrc=duration=3:size=64x64", "-c:v", "mpeg4", "-c:a", "alac"});
    const Sound both = read_sound(folder / "film.mov");
    REQUIRE(both.channels == 2);
    const Sound right = read_sound(folder / "film.mov", {.numbers = {2}});
    REQUIRE(right.channels == 1);
    REQUIRE(right.interleaved.size() * 2 == both.interleaved.size());
    CHECK(right.interleaved[24000] == both.interleaved[48001]);
    CHECK(refusal([&] { (void)read_sound(folder / "film.mov", {.numbers = {3}}); }).find("it has 2") !=
          std::string::npos);
}

TEST_CASE("sound in memory is read as from a file, and blocks do not matter") {
    const TempFolder folder;
    write_sound(folder / "take.wav", made_take({.taps = 4}), SoundFormat::wav_24);
    encode(folder, "take.m4a", {"-c:a", "aac"});
    const std::string bytes = bytes_of(folder / "take.m4a");
    SoundReader memory(std::as_bytes(std::span(bytes)), "phone");
    const Sound whole = read_sound(folder / "take.m4a");
    std::vector<float> pieces;
    std::vector<float> block(777);
    for (std::size_t got = memory.read(block); got > 0; got = memory.read(block)) {
        pieces.insert(pieces.end(), block.begin(), block.begin() + static_cast<std::ptrdiff_t>(got));
    }
    CHECK(pieces == whole.interleaved);
}

TEST_CASE(
    "a phone's take is inspected with its codec, a caution, and its taps where they are, and a visit keeps that") {
    const TempFolder folder;
    const MadeTake made{.taps = 8};
    write_sound(folder / "take.wav", made_take(made), SoundFormat::wav_24);
    encode(folder, "take.m4a", {"-c:a", "aac", "-b:a", "160k"});
    const dsp::TakeAnalysis wav = inspect_file(folder / "take.wav");
    const dsp::TakeAnalysis phone = inspect_file(folder / "take.m4a");
    CHECK(wav.fitness.cautions.empty());
    CHECK(phone.fitness.usable);
    REQUIRE_FALSE(phone.fitness.cautions.empty());
    CHECK(phone.fitness.cautions.back().find("AAC") != std::string::npos);
    REQUIRE(phone.taps.size() == wav.taps.size());
    std::vector<double> onsets_s;
    for (std::size_t i = 0; i < wav.taps.size(); ++i) {
        // A codec smears the start of a tap ahead of it, within what it transforms at once (AAC: 1024 samples; ISO/IEC
        // 14496-3). These strikes, out of next to no noise, come 3.5 to 4.5 ms early.
        CHECK(std::abs(phone.taps[i].onset_s - wav.taps[i].onset_s) < 1024.0 / 48000.0);
        onsets_s.push_back(phone.taps[i].onset_s);
    }
    const auto kept = read_around_taps(folder / "take.m4a", onsets_s, {});
    REQUIRE(kept.has_value());
    const auto flac = encode_sound(*kept, SoundFormat::flac_24);
    const dsp::TakeAnalysis again = inspect_sound(read_sound(flac, "kept"), "kept");
    REQUIRE_FALSE(again.fitness.cautions.empty());
    CHECK(again.fitness.cautions.back() == phone.fitness.cautions.back());
}

TEST_CASE("the codecs that libsndfile reads are told too") {
    const TempFolder folder;
    write_sound(folder / "take.wav", made_take({.taps = 4}), SoundFormat::wav_24);
    for (const Format& format :
         {Format{"a.ogg", {"-c:a", "libvorbis"}, "Vorbis"}, Format{"b.opus", {"-c:a", "libopus"}, "Opus"},
          Format{"c.mp3", {"-c:a", "libmp3lame"}, "MP3"}, Format{"d.wav", {"-c:a", "pcm_mulaw"}, "G.711 mu-law"},
          Format{"e.flac", {"-c:a", "flac"}, ""}, Format{"f.aiff", {"-c:a", "pcm_s16be"}, ""}}) {
        CAPTURE(format.name);
        encode(folder, format.name, format.options);
        CHECK(codec_of(folder / format.name) == format.codec);
    }
}

TEST_CASE("a file that was cut short is refused, and so is one that only begins as a sound") {
    const TempFolder folder;
    write_sound(folder / "take.wav", made_take({.taps = 8}), SoundFormat::wav_24);
    encode(folder, "take.m4a", {"-c:a", "aac", "-movflags", "+faststart"});
    const std::string whole = bytes_of(folder / "take.m4a");
    put_bytes(folder / "cut.m4a", whole.substr(0, whole.size() * 2 / 3));
    CHECK(refusal([&] { (void)read_sound(folder / "cut.m4a"); }).find("Cannot use '") == 0);
    put_bytes(folder / "start.m4a", whole.substr(0, 40));
    const std::string said = refusal([&] { (void)read_sound(folder / "start.m4a"); });
    CHECK(said.find("Cannot use '") == 0);
    CHECK(said.find("save it as WAV or FLAC") != std::string::npos);
}

TEST_CASE("damaged files are read or refused, and nothing else happens") {
    const TempFolder folder;
    write_sound(folder / "take.wav", made_take({.taps = 4}), SoundFormat::wav_24);
    encode(folder, "take.m4a", {"-c:a", "aac"});
    encode(folder, "take.webm", {"-c:a", "libopus"});
    std::mt19937 random(20260); // printed by its failure below
    std::size_t refused = 0;
    for (const char* name : {"take.m4a", "take.webm"}) {
        const std::string whole = bytes_of(folder / name);
        for (int trial = 0; trial < 12; ++trial) {
            CAPTURE(name);
            CAPTURE(trial);
            std::string bytes = whole;
            for (std::size_t i = 0; i < 1U + 40U * static_cast<unsigned>(trial); ++i) {
                bytes[16 + random() % (bytes.size() - 16)] = static_cast<char>(random());
            }
            put_bytes(folder / "damaged", bytes);
            try {
                (void)read_sound(folder / "damaged");
            } catch (const InputError&) {
                ++refused;
            }
        }
    }
    CHECK(refused > 0);
}
