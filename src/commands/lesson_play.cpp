#include "lesson_play.hpp"

#include "audio/playback.hpp"
#include "audio/port_audio.hpp"
#include "audio/sound_writer.hpp"
#include "device_options.hpp"
#include "stop_signals.hpp"

#include <chrono>
#include <memory>

namespace retap::commands {
namespace {

constexpr std::chrono::milliseconds ask_every{50};

} // namespace

void write_lesson_sound(const std::filesystem::path& file, const audio::Sound& sound) {
    audio::write_sound(file, sound, audio::SoundFormat::wav_24);
}

void play_sounds(const std::vector<audio::Sound>& sounds, const std::optional<std::string>& device) {
    const auto system = std::make_shared<audio::SoundSystem>();
    const audio::Device chosen = chosen_device(*system, audio::Direction::output, device);
    const audio::StreamFormat format = audio::choose_play_format(*system, chosen, sounds.front());
    const StopSignals signals;
    audio::Player player(system, chosen, audio::plan_playback(sounds, format, {}));
    while (!player.wait_for(ask_every) && !StopSignals::asked()) {
    }
}

} // namespace retap::commands
