#include "audio/sound_writer.hpp"

#include "made_sounds.hpp"
#include "temp_folder.hpp"

#include <cmath>
#include <csignal>
#include <doctest/doctest.h>
#include <sys/resource.h>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

double largest_difference(const Sound& a, const Sound& b) {
    REQUIRE(a.interleaved.size() == b.interleaved.size());
    double largest = 0.0;
    for (std::size_t i = 0; i < a.interleaved.size(); ++i) {
        largest =
            std::max(largest, std::abs(static_cast<double>(a.interleaved[i]) - static_cast<double>(b.interleaved[i])));
    }
    return largest;
}

} // namespace

TEST_CASE("24-bit WAV and FLAC hold samples to half a step, 2^-24 of full scale, and scale by no more than one step") {
    const TempFolder folder;
    const Sound sound = noise_sound(44100.0, 2, 3000);
    // Half a step of rounding, and half a step more because 24-bit writing scales by 2^23 - 1 and reading by 2^23
    // (at half scale).
    const double tolerance = std::ldexp(1.0, -24) + 0.5 * std::ldexp(1.0, -23);
    for (const char* name : {"take.wav", "take.flac"}) {
        write_sound(folder / name, sound, format_for(folder / name));
        CHECK(largest_difference(read_sound(folder / name), sound) <= tolerance);
    }
    CHECK(bytes_of(folder / "take.flac").starts_with("fLaC"));
    CHECK(bytes_of(folder / "take.wav").starts_with("RIFF"));
}

TEST_CASE("samples beyond full scale stay at its edge and do not wrap round") {
    const TempFolder folder;
    const Sound loud{.sample_rate_hz = 48000.0, .channels = 1, .interleaved = {1.5F, -1.5F, 1.0F, -1.0F, 3.0F}};
    for (const char* name : {"loud.wav", "loud.flac"}) {
        write_sound(folder / name, loud, format_for(folder / name));
        const Sound back = read_sound(folder / name);
        const std::vector<float> edge{1.0F, -1.0F, 1.0F, -1.0F, 1.0F};
        CHECK(largest_difference(back, {.sample_rate_hz = 48000.0, .channels = 1, .interleaved = edge}) <=
              std::ldexp(1.0, -22));
    }
}

TEST_CASE("the same sound gives the same bytes, on disk and in memory") {
    const TempFolder folder;
    const Sound sound = noise_sound(48000.0, 1, 2000);
    for (const SoundFormat format : {SoundFormat::wav_24, SoundFormat::flac_24, SoundFormat::wav_float}) {
        write_sound(folder / "sound", sound, format);
        const auto encoded = encode_sound(sound, format);
        CHECK(bytes_of(folder / "sound") == as_text(encoded));
        CHECK(largest_difference(read_sound(encoded, "memory"), sound) <= std::ldexp(1.0, -23));
    }
}

TEST_CASE("a writer that is dropped without commit leaves nothing and harms nothing") {
    const TempFolder folder;
    put_bytes(folder / "take.wav", "an older take");
    {
        SoundWriter writer(folder / "take.wav", 48000.0, 1, SoundFormat::wav_24);
        writer.write(noise_sound(48000.0, 1, 1000).interleaved);
        CHECK(bytes_of(folder / "take.wav") == "an older take");
    }
    CHECK(bytes_of(folder / "take.wav") == "an older take");
    CHECK(folder.entries() == 1);
}

TEST_CASE("a disk that fills up is told and leaves neither a part nor the aside file") {
    const TempFolder folder;
    rlimit before{};
    REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
    auto* const handler = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{.rlim_cur = 20000, .rlim_max = before.rlim_max};
    for (const char* name : {"take.wav", "take.flac"}) {
        REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
        const std::string message =
            refusal([&] { write_sound(folder / name, noise_sound(48000.0, 1, 48000), format_for(folder / name)); });
        REQUIRE(setrlimit(RLIMIT_FSIZE, &before) == 0);
        CAPTURE(message);
        CHECK(message.starts_with("Cannot write '" + (folder / name).string() + "': "));
        CHECK(message.ends_with("Choose another place or make room."));
        CHECK(folder.entries() == 0);
    }
    std::signal(SIGXFSZ, handler);
}

TEST_CASE("a place that is not there is refused before any work") {
    const TempFolder folder;
    CHECK(refusal([&] { SoundWriter writer(folder / "no/such/take.wav", 48000.0, 1, SoundFormat::wav_24); }) ==
          "Cannot write '" + (folder / "no/such/take.wav").string() +
              "': No such file or directory. Choose another place or make room.");
}

TEST_CASE("the name says the format, and any other than WAV or FLAC is a wrong use") {
    CHECK(format_for("a.wav") == SoundFormat::wav_24);
    CHECK(format_for("a.FLAC") == SoundFormat::flac_24);
    CHECK_THROWS_AS((void)format_for("a.mp3"), UsageError);
    CHECK_THROWS_AS((void)format_for("wav"), UsageError);
}
