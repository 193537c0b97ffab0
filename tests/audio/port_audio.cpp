#include "audio/port_audio.hpp"

#include "audio/level_check.hpp"
#include "audio/playback.hpp"
#include "audio/recorder.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"
#include "known_take.hpp"
#include "virtual_audio.hpp"

#include <algorithm>
#include <chrono>
#include <doctest/doctest.h>
#include <memory>
#include <optional>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::audio;
using namespace retap::test;
using namespace std::chrono_literals;

TEST_CASE("the devices of the virtual sound card are listed, each with its name, and one is the default") {
    const VirtualAudio card;
    const SoundSystem system;
    const auto devices = system.devices();
    for (const char* name : {"mic44", "mic48", "mic96", "default"}) {
        CAPTURE(name);
        const auto found =
            std::find_if(devices.begin(), devices.end(), [&](const Device& d) { return d.name == name; });
        REQUIRE(found != devices.end());
        CHECK(found->system == "ALSA");
        CHECK(found->input_channels > 0);
        CHECK(found->default_input == (found->name == "default"));
        CHECK(choose_rate(system, *found, 1, std::nullopt) == 48000.0);
        CHECK(choose_rate(system, *found, 2, 44100.0) == 44100.0);
    }
}

TEST_CASE("a device that only plays is refused for recording in words") {
    const VirtualAudio card;
    const SoundSystem system;
    const auto devices = system.devices();
    const auto player =
        std::find_if(devices.begin(), devices.end(), [](const Device& d) { return d.name == "playmic48"; });
    REQUIRE(player != devices.end());
    CHECK_THROWS_WITH_AS(static_cast<void>(choose_rate(system, *player, 1, std::nullopt)),
                         doctest::Contains("Cannot record from 'playmic48'"), DeviceError);
    CHECK_THROWS_WITH_AS(static_cast<void>(choose_rate(system, *player, 99, std::nullopt)),
                         doctest::Contains("Use --channels 1"), DeviceError);
}

TEST_CASE("what the player plays is what the recorder hears, before and after in turn, sample by sample") {
    const VirtualAudio card;
    const auto system = std::make_shared<SoundSystem>();
    const auto devices = system->devices();
    const KnownTake before = known_take({.taps = 3, .lead_s = 0.3, .tail_s = 0.3});
    const KnownTake after = known_take({.taps = 3, .patient = 8, .lead_s = 0.3, .tail_s = 0.3});
    Recorder recorder(system, {.device = choose_device(devices, Direction::input, "mic48", std::nullopt),
                               .destination = card.folder() / "take.wav",
                               .journal_folder = card.folder() / "running",
                               .session = {.good_taps = 50, .keep_all = true}});
    REQUIRE(eventually([&] { return recorder.progress().listened_s > 0.0; }));
    const Device& speaker = choose_device(devices, Direction::output, "playmic48", std::nullopt);
    const std::vector takes = {before.sound, after.sound};
    const StreamFormat format = choose_play_format(*system, speaker, takes[0]);
    CHECK(format.sample_rate_hz == 48000.0);
    CHECK(format.channels == 1);
    const PlayPlan plan = plan_playback(takes, format, {.times = 2, .pause_s = 0.25});
    Player player(system, speaker, plan);
    std::vector<std::size_t> order;
    while (!player.wait_for(10ms)) {
        if (const auto now = player.take_now(); now && (order.empty() || order.back() != *now)) {
            order.push_back(*now);
        }
    }
    CHECK(order == std::vector<std::size_t>{0, 1, 0, 1});
    std::this_thread::sleep_for(300ms); // what was played last is still on its way
    recorder.stop();
    const Recording& recording = recorder.result();
    REQUIRE(recording.take.has_value());
    const Sound heard = read_sound(recording.take->file);
    const auto found =
        std::search(heard.interleaved.begin(), heard.interleaved.end(), plan.samples.begin(), plan.samples.end());
    CHECK(found != heard.interleaved.end());
}

TEST_CASE("the level check tells silence from sound") {
    VirtualAudio card;
    const SoundSystem system;
    const Device device = choose_device(system.devices(), Direction::input, "mic48", std::nullopt);
    const LevelReading silence = check_level(device, {}, 0.6);
    CHECK(silence.peak_dbfs == doctest::Approx(-300.0));
    CHECK(std::string(plain(silence)).find("Nothing at all") == 0);

    Sound tone{.sample_rate_hz = 48000.0, .channels = 1, .interleaved = std::vector<float>(240000)};
    for (std::size_t i = 0; i < tone.interleaved.size(); ++i) {
        tone.interleaved[i] = 0.01F * ((i / 24) % 2 == 0 ? 1.0F : -1.0F); // -40 dBFS, 1 kHz
    }
    const auto player = card.play(tone, "mic48");
    LevelReading reading;
    // paplay needs a moment before it is heard.
    REQUIRE(eventually([&] { return (reading = check_level(device, {}, 0.6)).peak_dbfs > -100.0; }));
    reading = check_level(device, {}, 0.6);
    CHECK(reading.peak_dbfs == doctest::Approx(-40.0).epsilon(0.001));
    CHECK(reading.noise_dbfs == doctest::Approx(-40.0).epsilon(0.01)); // a tone that never stops is the noise
    CHECK_FALSE(reading.lost_sound);
}
