// retap devices: what can be recorded from and played on, and whether the pick-up hears something.
#include "audio/device_memory.hpp"
#include "audio/level_check.hpp"
#include "audio/port_audio.hpp"
#include "columns.hpp"
#include "command_line.hpp"
#include "device_options.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace retap::commands {
namespace {

struct DevicesOptions {
    std::optional<std::string> device;
    bool level = false;
    double seconds = 2.0;
    bool json = false;
};

/// A device with what asking it gives.
struct Asked {
    audio::Device device;
    std::vector<double> input_rates_hz;
    bool remembered = false;
};

struct Level {
    audio::Device device;
    audio::LevelReading reading;
};

std::vector<Asked> ask_all(const audio::SoundSystem& system) {
    const auto file = audio::device_memory_file();
    const auto remembered = file ? audio::remembered_device(*file, audio::Direction::input) : std::nullopt;
    std::vector<Asked> all;
    for (audio::Device& device : system.devices()) {
        Asked asked{.device = std::move(device), .input_rates_hz = {}};
        for (const double rate : audio::recording_rates_hz()) {
            if (asked.device.input_channels > 0 &&
                system.accepts(asked.device, audio::Direction::input, {.sample_rate_hz = rate, .channels = 1})) {
                asked.input_rates_hz.push_back(rate);
            }
        }
        std::sort(asked.input_rates_hz.begin(), asked.input_rates_hz.end());
        asked.remembered =
            remembered && remembered->name == asked.device.name && remembered->system == asked.device.system;
        all.push_back(std::move(asked));
    }
    return all;
}

std::string rates_text(const Asked& asked) {
    std::string text;
    for (const double rate : asked.input_rates_hz) {
        text += (text.empty() ? "" : ", ") + std::to_string(std::lround(rate));
    }
    if (asked.device.input_channels == 0) {
        return "plays only";
    }
    return text.empty() ? "busy, or refuses 48000, 96000 and 44100" : text;
}

std::string marks_text(const Asked& asked) {
    std::string text;
    const auto add = [&](bool applies, const char* mark) {
        text += applies ? (text.empty() ? "" : ", ") + std::string(mark) : "";
    };
    add(asked.remembered, "chosen last");
    add(asked.device.default_input, "default for recording");
    add(asked.device.default_output, "default for playing");
    return text;
}

std::string decibels(double level_dbfs) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f dBFS", level_dbfs);
    return level_dbfs <= -300.0 ? "nothing" : text;
}

std::string devices_text(const std::vector<Asked>& all) {
    using Align = Columns::Align;
    Columns columns({Align::right, Align::left, Align::left, Align::right, Align::right, Align::left, Align::left});
    columns.add({"no.", "name", "system", "in", "out", "records at (Hz)", ""});
    for (const Asked& asked : all) {
        columns.add({std::to_string(asked.device.number), asked.device.name, asked.device.system,
                     std::to_string(asked.device.input_channels), std::to_string(asked.device.output_channels),
                     rates_text(asked), marks_text(asked)});
    }
    return all.empty() ? "There is no sound device. Plug the pick-up in and try again.\n" : columns.text();
}

std::string level_text(const Level& level) {
    return "'" + level.device.name + "': peak " + decibels(level.reading.peak_dbfs) + ", noise " +
           decibels(level.reading.noise_dbfs) + ".\n" + std::string(audio::plain(level.reading)) + "\n";
}

report::Json level_value(double level_dbfs) {
    return level_dbfs <= -300.0 ? report::Json(nullptr) : report::rounded(level_dbfs, 2);
}

report::Json devices_json(const std::vector<Asked>& all, const std::optional<Level>& level) {
    report::Json list = report::Json::array();
    for (const Asked& asked : all) {
        report::Json rates = report::Json::array();
        for (const double rate : asked.input_rates_hz) {
            rates.push_back(report::rounded(rate, 1));
        }
        list.push_back({{"number", asked.device.number},
                        {"name", asked.device.name},
                        {"system", asked.device.system},
                        {"input_channels", asked.device.input_channels},
                        {"output_channels", asked.device.output_channels},
                        {"input_rates_hz", std::move(rates)},
                        {"default_input", asked.device.default_input},
                        {"default_output", asked.device.default_output},
                        {"chosen_last", asked.remembered}});
    }
    report::Json json = {{"format", "retap.devices/1"}, {"devices", std::move(list)}, {"level", nullptr}};
    if (level) {
        json["level"] = {{"device", level->device.name},
                         {"seconds", report::rounded(level->reading.seconds, 2)},
                         {"peak_dbfs", level_value(level->reading.peak_dbfs)},
                         {"noise_dbfs", level_value(level->reading.noise_dbfs)},
                         {"lost_sound", level->reading.lost_sound},
                         {"plain", audio::plain(level->reading)}};
    }
    return json;
}

Level measure(const audio::SoundSystem& system, const DevicesOptions& options) {
    const audio::Device device = chosen_device(system, audio::Direction::input, options.device);
    const double rate_hz = audio::choose_rate(system, device, 1, std::nullopt);
    return {.device = device,
            .reading = audio::check_level(device, {.sample_rate_hz = rate_hz, .channels = 1}, options.seconds)};
}

void run(const DevicesOptions& options) {
    const audio::SoundSystem system;
    const auto all = ask_all(system);
    const auto level = options.level ? std::optional(measure(system, options)) : std::nullopt;
    print(options.json ? report::json_text(devices_json(all, level))
                       : devices_text(all) + (level ? "\n" + level_text(*level) : ""));
}

} // namespace

void add_devices(Command program) {
    constexpr double min_seconds = 0.5;
    constexpr double max_seconds = 60.0;
    auto options = std::make_shared<DevicesOptions>();
    Command command = program.subcommand("devices", "List the sound devices, and check that the pick-up hears");
    const Option level =
        command.flag("--level", options->level, "Listen for a moment and say how loud it is; nothing is stored");
    add_device_option(command, options->device).needs(level);
    command.option("--seconds", options->seconds, "How long to listen")
        .within(min_seconds, max_seconds)
        .show_default()
        .needs(level);
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
