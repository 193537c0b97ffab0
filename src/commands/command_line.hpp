// The command line: what a command takes, and how it says so. Each command stands in a file of its own and adds itself
// to the program. CLI11 does the reading; its header takes longer to compile than any command, so only command_line.cpp
// includes it.
#pragma once

#include "audio/sound_file.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
} // namespace CLI

namespace retap::commands {

/// One option, argument or flag of a command: a handle, cheap to copy, that is good for as long as the Program.
class Option {
public:
    explicit Option(CLI::Option* option) : option_(option) {}

    Option& required();
    /// What --help and errors call that which is to be given, as in "OUT.csv".
    Option& type_name(const std::string& name);
    /// --help says what holds when it is not given: what the variable holds now.
    Option& show_default();
    /// Takes numbers from `lowest` to `highest`, both included; no others, and nothing that is no number.
    Option& within(double lowest, double highest);
    /// Takes whole numbers from 1 up: the number of a visit or of an entry.
    Option& counting_number();
    /// Takes these and no others.
    Option& one_of(std::initializer_list<const char*> words);
    Option& one_of(std::initializer_list<double> numbers);
    /// Of an option that may be given again: takes one value each time, not all that follow.
    Option& one_value_each();
    /// Is wrong usage without `other`.
    Option& needs(const Option& other);

private:
    CLI::Option* option_;
};

/// One command, or the program itself: a handle, cheap to copy, that is good for as long as the Program. Variables that
/// are bound to it get their values before it runs, and must live until then.
class Command {
public:
    explicit Command(CLI::App* app) : app_(app) {}

    /// A command below this one; at most one of them runs. Takes over the footer that this one has now.
    Command subcommand(const std::string& name, const std::string& says);
    /// Whether one of the commands below was asked for; known once this one runs.
    [[nodiscard]] bool subcommand_given() const;
    /// Understands the options of the command above after its own name too.
    void take_options_of_parent();

    /// With dashes an option, "--seconds"; without them an argument, "TAKE", in the order in which they are added. A
    /// std::optional stays empty when nothing is given; a std::vector takes several values.
    Option option(const std::string& name, std::string& value, const std::string& says);
    Option option(const std::string& name, double& value, const std::string& says);
    Option option(const std::string& name, int& value, const std::string& says);
    Option option(const std::string& name, unsigned& value, const std::string& says);
    Option option(const std::string& name, std::size_t& value, const std::string& says);
    Option option(const std::string& name, std::int64_t& value, const std::string& says);
    Option option(const std::string& name, std::optional<std::string>& value, const std::string& says);
    Option option(const std::string& name, std::optional<double>& value, const std::string& says);
    Option option(const std::string& name, std::optional<unsigned>& value, const std::string& says);
    Option option(const std::string& name, std::vector<std::string>& values, const std::string& says);
    /// True when it is given.
    Option flag(const std::string& name, bool& given, const std::string& says);
    /// `--json`, as every command that reports has it.
    void json_flag(bool& json);
    /// `--channels 1` or `--channels 1,2`.
    void channels_option(audio::ChannelChoice& choice);

    /// Stands below everything else in --help.
    void footer(const std::string& text);
    /// Called when the command was asked for and everything that was given is right, after that of a command below it.
    void when_run(std::function<void()> action);

private:
    CLI::App* app_;
};

/// The whole command line, with --help and --version.
class Program {
public:
    Program(const std::string& name, const std::string& says, const std::string& version);
    ~Program();
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    Program(Program&&) = delete;
    Program& operator=(Program&&) = delete;

    /// To add commands to.
    [[nodiscard]] Command command();
    /// Runs what was asked for, or prints help or version. Throws UsageError for what cannot be understood, with where
    /// to look it up, and whatever the command throws.
    void run(int argc, char** argv);

private:
    std::unique_ptr<CLI::App> app_;
};

void add_inspect(Command program);
void add_compare(Command program);
void add_batch(Command program);
void add_record(Command program);
void add_devices(Command program);
void add_play(Command program);
void add_chairside(Command program);
void add_visit(Command program);
void add_school(Command program);
void add_lesson(Command program);

} // namespace retap::commands
