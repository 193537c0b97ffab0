// The command line. Each command stands in a file of its own and adds itself to the program; the one place that
// includes CLI11.
#pragma once

#include "audio/sound_file.hpp"

#include <CLI/CLI.hpp>

namespace retap::commands {

void add_inspect(CLI::App& program);
void add_compare(CLI::App& program);
void add_batch(CLI::App& program);
void add_record(CLI::App& program);
void add_devices(CLI::App& program);
void add_play(CLI::App& program);
void add_chairside(CLI::App& program);
void add_visit(CLI::App& program);
void add_lesson(CLI::App& program);

/// Takes numbers from `lowest` to `highest`, both included; no others, and nothing that is no number.
[[nodiscard]] CLI::Validator within(double lowest, double highest);
/// Takes whole numbers from 1 up: the number of a visit or of an entry.
[[nodiscard]] CLI::Validator counting_number();

/// `--json`, as every command that reports has it.
void add_json_option(CLI::App& command, bool& json);
/// `--channels 1` or `--channels 1,2`.
void add_channels_option(CLI::App& command, audio::ChannelChoice& choice);

} // namespace retap::commands
