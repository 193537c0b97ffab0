#include "audio/inspect_file.hpp"

#include "made_takes.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;

namespace {

/// Worst distance of the taps from where they were put, in ms; a wrong count fails at once.
double worst_onset_error_ms(const dsp::TakeAnalysis& take, const MadeTake& made) {
    REQUIRE(take.taps.size() == static_cast<std::size_t>(made.taps));
    double worst = 0.0;
    for (int n = 0; n < made.taps; ++n) {
        worst = std::max(worst, std::abs(1e3 * (take.taps[static_cast<std::size_t>(n)].onset_s - tap_time_s(made, n))));
    }
    return worst;
}

} // namespace

TEST_CASE("taps stand where they were put, whatever rate the file has") {
    const TempFolder folder;
    for (const double rate : {44100.0, 48000.0, 88200.0, 96000.0, 192000.0}) {
        const MadeTake made{.rate_hz = rate, .first_s = 0.61234567};
        write_take(folder / "take.wav", made);
        const auto take = inspect_file(folder / "take.wav");
        CAPTURE(rate);
        CHECK(worst_onset_error_ms(take, made) <
              0.11); // what the sound stage promises: bias 0.05, and twice a scatter of 0.03
        CHECK(take.sample_rate_hz == rate);
        CHECK(take.file == (folder / "take.wav").string());
        CHECK(take.duration_s == doctest::Approx(static_cast<double>(made_take(made).interleaved.size()) / rate));
    }
}

TEST_CASE("a file and the same sound in memory give the same analysis") {
    const TempFolder folder;
    const Sound sound = made_take({.channels = 2});
    write_sound(folder / "take.wav", sound, SoundFormat::wav_float);
    const auto from_file = inspect_file(folder / "take.wav");
    const auto from_memory = inspect_sound(sound, "memory");
    REQUIRE(from_file.taps.size() == from_memory.taps.size());
    for (std::size_t i = 0; i < from_file.taps.size(); ++i) {
        CHECK(from_file.taps[i].onset_s == from_memory.taps[i].onset_s);
        CHECK(from_file.taps[i].excerpt.samples == from_memory.taps[i].excerpt.samples);
    }
    CHECK(from_file.duration_s == from_memory.duration_s);
    CHECK(from_memory.file == "memory");
}

TEST_CASE("digital silence ahead of the room's noise, as while a device wakes up, moves no onset") {
    const Sound sound = read_sound(RETAP_SOURCE_DIR "/recordings/before.flac"); // its first tap comes at 0.35 s
    const auto plain = inspect_sound(sound, "plain");
    for (const double silent_s : {0.05, 0.15, 0.3, 1.0}) {
        CAPTURE(silent_s);
        Sound late = sound;
        const auto silent = static_cast<std::size_t>(silent_s * sound.sample_rate_hz);
        late.interleaved.insert(late.interleaved.begin(), silent, 0.0F);
        const auto take = inspect_sound(late, "late");
        REQUIRE(take.taps.size() == plain.taps.size());
        for (std::size_t i = 0; i < take.taps.size(); ++i) {
            CAPTURE(i);
            // Frames fall differently, so other stretches of the noise are learnt from: one sample.
            CHECK(std::abs(take.taps[i].onset_s - silent_s - plain.taps[i].onset_s) < 25e-6);
        }
    }
}

TEST_CASE("one sample of sound is a take without taps that is not fit") {
    const auto take = inspect_sound({.sample_rate_hz = 48000.0, .channels = 1, .interleaved = {0.5F}}, "one");
    CHECK(take.taps.empty());
    CHECK_FALSE(take.fitness.usable);
}
