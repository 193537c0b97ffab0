#include "audio/inspect_file.hpp"

#include "audio/capture_note.hpp"
#include "made_takes.hpp"
#include "paths.hpp"
#include "temp_folder.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <numbers>
#include <random>
#include <string>

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
    const Sound sound = read_sound(test::source_dir() + "/recordings/before.flac"); // its first tap comes at 0.35 s
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

namespace {

std::size_t unusable_taps(const dsp::TakeAnalysis& take, dsp::Unusable reason) {
    return static_cast<std::size_t>(std::count_if(take.taps.begin(), take.taps.end(), [&](const dsp::Tap& tap) {
        return !tap.usable && !tap.reasons.empty() && tap.reasons.front() == reason;
    }));
}

} // namespace

TEST_CASE("an automatic gain that gives way at each tap and comes back between them is a caution, a fixed one is not") {
    const auto warned = [](const Sound& sound) {
        const auto take = inspect_sound(sound, "take");
        CHECK(take.fitness.usable);
        return std::ranges::any_of(take.fitness.cautions, [](const std::string& caution) {
            return caution.find("automatic level control") != std::string::npos;
        });
    };
    const MadeTake made;
    Sound sound = made_take(made);
    CHECK_FALSE(warned(sound));
    for (std::size_t i = 0; i < sound.interleaved.size(); ++i) {
        double since_s = 1e3; // the last tap, and the 3 ms that the gain takes to notice it
        for (int tap = 0; tap < made.taps; ++tap) {
            const double s = static_cast<double>(i) / made.rate_hz - tap_time_s(made, tap) - 0.003;
            since_s = s >= 0.0 ? std::min(since_s, s) : since_s;
        }
        sound.interleaved[i] *= static_cast<float>(std::pow(10.0, -12.0 / 20.0 * std::exp(-since_s / 0.25)));
    }
    CHECK(warned(sound));
}

TEST_CASE("flat tops are counted at the rate they were recorded at, where resampling would have rounded them") {
    for (const double rate : {44100.0, 96000.0}) {
        CAPTURE(rate);
        Sound sound = made_take({.rate_hz = rate});
        // Cut off at a fifth of full scale, as by an input stage ahead of the level control.
        constexpr float top = 0.2F;
        std::size_t flat = 0;
        std::size_t run = 0;
        for (float& sample : sound.interleaved) {
            run = std::abs(sample) >= top ? run + 1 : 0;
            sample = std::clamp(sample, -top, top);
            flat += run == 3 ? 3U : (run > 3 ? 1U : 0U); // three equal ones or more count, by the rule
        }
        REQUIRE(flat > 20);
        const auto take = inspect_sound(sound, "clipped");
        CHECK(take.fitness.clipped_samples == flat);
        CHECK(unusable_taps(take, dsp::Unusable::clipped) == take.taps.size());
    }
}

TEST_CASE("a hole and a block heard twice are seen at the rate they were recorded at, and cost the tap they are in") {
    for (const double rate : {44100.0, 48000.0, 96000.0}) {
        CAPTURE(rate);
        const MadeTake made{.rate_hz = rate};
        const auto at = [&](int tap) { return static_cast<std::ptrdiff_t>((tap_time_s(made, tap) + 0.002) * rate); };
        Sound holed = made_take(made);
        std::fill_n(holed.interleaved.begin() + at(3), 40, 0.0F); // 0.4 to 0.9 ms
        Sound twice = made_take(made);
        std::copy_n(twice.interleaved.begin() + at(5), 256, twice.interleaved.begin() + at(5) + 256);
        for (const Sound* sound : {&holed, &twice}) {
            const auto take = inspect_sound(*sound, "broken");
            CHECK(take.fitness.dropouts == 1);
            CHECK(unusable_taps(take, dsp::Unusable::broken) == 1);
        }
    }
}

TEST_CASE(
    "a recording at a low rate is said to hold nothing above half of it, also when its taps do not reach that far") {
    MadeTake made{.rate_hz = 8000.0};
    Sound sound = made_take(made);
    std::mt19937 engine(1);
    for (float& sample : sound.interleaved) {
        sample = 1e-4F * (static_cast<float>(engine() % 2000U) / 1000.0F - 1.0F);
    }
    for (int tap = 0; tap < made.taps; ++tap) {
        for (int n = 0; n < 800; ++n) { // a dull one: 900 Hz alone, set going over a millisecond
            const double t = n / made.rate_hz;
            const double set_going = t < 1e-3 ? std::pow(std::sin(0.5 * std::numbers::pi * t / 1e-3), 2) : 1.0;
            sound.interleaved[static_cast<std::size_t>(tap_time_s(made, tap) * made.rate_hz) +
                              static_cast<std::size_t>(n)] +=
                static_cast<float>(0.3 * set_going * std::exp(-150.0 * t) *
                                   std::sin(2.0 * std::numbers::pi * 900.0 * t));
        }
    }
    const auto take = inspect_sound(sound, "telephone");
    CHECK(take.taps.size() == 10);
    CHECK_FALSE(take.fitness.usable);
    CHECK(std::ranges::any_of(take.fitness.reasons, [](const std::string& reason) {
        return reason.find("holds nothing above 4.0 kHz") != std::string::npos;
    }));
}

TEST_CASE("nothing is timed across a gap that the capture noted, and a pause costs nothing") {
    const TempFolder folder;
    const MadeTake made{.rate_hz = 44100.0};
    const auto frame = [&](double s) { return static_cast<std::uint64_t>(s * made.rate_hz); };
    const double lost_at_s = tap_time_s(made, 4) + 0.001;
    CaptureNote note;
    note.joins = {{.at_frame = frame(tap_time_s(made, 2) + 0.25), .kind = Join::Kind::pause, .missing_frames = 441000},
                  {.at_frame = frame(lost_at_s), .kind = Join::Kind::gap, .missing_frames = 0}};
    Sound sound = made_take(made);
    sound.comment = write_note(note);
    write_sound(folder / "take.wav", sound, SoundFormat::wav_24);
    const auto take = inspect_file(folder / "take.wav");
    REQUIRE(take.taps.size() == static_cast<std::size_t>(made.taps));
    CHECK(take.fitness.dropouts == 1);
    CHECK(unusable_taps(take, dsp::Unusable::broken) == 1);
    CHECK_FALSE(take.taps[4].usable);
    CHECK(worst_onset_error_ms(take, made) < 0.11); // the joined pieces stand where they stand in the file
}
