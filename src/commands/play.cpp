// retap play: one take, or before and after in turn.
#include "audio/playback.hpp"
#include "audio/port_audio.hpp"
#include "command_line.hpp"
#include "device_options.hpp"
#include "stop_signals.hpp"
#include "terminal.hpp"

#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace retap::commands {
namespace {

constexpr std::chrono::milliseconds look_every{50};

struct PlayOptions {
    std::string first;
    std::string second;
    std::optional<std::string> device;
    audio::PlaySettings settings;
};

void run(const PlayOptions& options) {
    std::vector<std::string> names = {options.first};
    if (!options.second.empty()) {
        names.push_back(options.second);
    }
    std::vector<audio::Sound> takes;
    takes.reserve(names.size());
    for (const std::string& name : names) {
        takes.push_back(audio::read_sound(name));
    }
    const auto system = std::make_shared<audio::SoundSystem>();
    const audio::Device device = chosen_device(*system, audio::Direction::output, options.device);
    const audio::StreamFormat format = audio::choose_play_format(*system, device, takes.front());
    const StopSignals signals;
    audio::Player player(system, device, audio::plan_playback(takes, format, options.settings));
    remember_choice(audio::Direction::output, options.device, device);
    std::optional<std::size_t> said;
    while (!player.wait_for(look_every) && !StopSignals::asked()) {
        const auto now = player.take_now();
        if (now && now != said) {
            print(names[*now] + "\n");
        }
        said = now;
    }
}

} // namespace

void add_play(Command program) {
    constexpr double longest_pause_s = 10.0;
    auto options = std::make_shared<PlayOptions>();
    Command command = program.subcommand("play", "Play a take, or two in turn");
    command.option("TAKE", options->first, "A sound file").required();
    command.option("TAKE2", options->second, "Another, played after it: before and after");
    add_device_option(command, options->device);
    command.option("--times", options->settings.times, "How often").within(1, 100).show_default();
    command.option("--pause", options->settings.pause_s, "Seconds between two takes")
        .within(0.0, longest_pause_s)
        .show_default();
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
