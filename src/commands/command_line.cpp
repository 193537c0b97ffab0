#include "command_line.hpp"

namespace retap::commands {

void add_json_option(CLI::App& command, bool& json) {
    command.add_flag("--json", json, "Print JSON instead of text");
}

void add_channels_option(CLI::App& command, audio::ChannelChoice& choice) {
    constexpr int most_channels = 1024;
    command
        .add_option("--channels", choice.numbers,
                    "Channels to read, counted from 1: one, or two as left and right (1,2)")
        ->delimiter(',')
        ->expected(1, 2)
        ->allow_extra_args(false)
        ->check(CLI::Range(1, most_channels))
        ->type_name("N[,N]");
}

} // namespace retap::commands
