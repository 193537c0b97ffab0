#include "command_line.hpp"

#include "error.hpp"
#include "help_text.hpp"
#include "terminal.hpp"

#include <CLI/CLI.hpp>

#include <charconv>
#include <memory>
#include <sstream>
#include <utility>

namespace retap::commands {
namespace {

/// As short as it can be said: 600, 0.5.
std::string short_number(double value) {
    std::ostringstream text;
    text << value;
    return text.str();
}

CLI::Validator number_within(double lowest, double highest) {
    const std::string limits = short_number(lowest) + " to " + short_number(highest);
    return {[lowest, highest, limits](const std::string& given) {
                double value = 0.0;
                const bool fits = CLI::detail::lexical_cast(given, value) && value >= lowest && value <= highest;
                return fits ? std::string() : "Value " + given + " not in range " + limits;
            },
            limits};
}

CLI::Validator number_from_one() {
    return {[](const std::string& given) {
                std::int64_t value = 0;
                const char* const last = given.data() + given.size();
                const auto [end, error] = std::from_chars(given.data(), last, value);
                const bool fits = error == std::errc() && end == last && value > 0;
                return fits ? std::string() : "'" + given + "' is not a number from 1 up";
            },
            ""};
}

/// What was typed of "retap visit list", as far as it was understood.
std::string understood(const CLI::App& program) {
    std::string words = program.get_name();
    for (auto chosen = program.get_subcommands(); !chosen.empty(); chosen = chosen.front()->get_subcommands()) {
        words += " " + chosen.front()->get_name();
    }
    return words;
}

OptionFacts facts(const CLI::Option& option) {
    const bool several = option.get_expected_max() == CLI::detail::expected_max_vector_size;
    OptionFacts facts{.description = option.get_description(),
                      .type = option.get_type_name(),
                      .when_not_given = option.get_default_str(),
                      .needs = {},
                      .flag = option.get_type_size() == 0,
                      .positional = option.get_positional(),
                      .required = option.get_required(),
                      .several_values = several && option.get_allow_extra_args(),
                      .may_come_again = several && !option.get_allow_extra_args()};
    for (const CLI::Option* other : option.get_needs()) {
        facts.needs.push_back(other->get_name());
    }
    return facts;
}

class HelpFormatter : public CLI::Formatter {
public:
    std::string make_option_opts(const CLI::Option* option) const override { return what_to_give(facts(*option)); }
    std::string make_option_desc(const CLI::Option* option) const override {
        return option_description(facts(*option));
    }
};

} // namespace

Option& Option::required() {
    option_->required();
    return *this;
}

Option& Option::type_name(const std::string& name) {
    option_->type_name(name);
    return *this;
}

Option& Option::show_default() {
    option_->capture_default_str();
    return *this;
}

Option& Option::within(double lowest, double highest) {
    option_->check(number_within(lowest, highest));
    return *this;
}

Option& Option::counting_number() {
    option_->check(number_from_one());
    return *this;
}

Option& Option::one_of(std::initializer_list<const char*> words) {
    option_->check(CLI::IsMember(words));
    return *this;
}

Option& Option::one_of(std::initializer_list<double> numbers) {
    option_->check(CLI::IsMember(numbers));
    return *this;
}

Option& Option::one_value_each() {
    option_->allow_extra_args(false);
    return *this;
}

Option& Option::needs(const Option& other) {
    option_->needs(other.option_);
    return *this;
}

Command Command::subcommand(const std::string& name, const std::string& says) {
    return Command(app_->add_subcommand(name, says));
}

bool Command::subcommand_given() const {
    return !app_->get_subcommands().empty();
}

void Command::take_options_of_parent() {
    app_->fallthrough();
}

Option Command::option(const std::string& name, std::string& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, double& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, int& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, unsigned& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::size_t& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::int64_t& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::optional<std::string>& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::optional<double>& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::optional<unsigned>& value, const std::string& says) {
    return Option(app_->add_option(name, value, says));
}

Option Command::option(const std::string& name, std::vector<std::string>& values, const std::string& says) {
    return Option(app_->add_option(name, values, says));
}

Option Command::flag(const std::string& name, bool& given, const std::string& says) {
    return Option(app_->add_flag(name, given, says));
}

void Command::json_flag(bool& json) {
    flag("--json", json, "Print JSON instead of text");
}

void Command::channels_option(audio::ChannelChoice& choice) {
    constexpr int max_channels = 1024;
    app_->add_option("--channels", choice.numbers,
                     "Channels to read, counted from 1: one, or two as left and right (1,2)")
        ->delimiter(',')
        ->expected(1, 2)
        ->allow_extra_args(false)
        ->check(number_within(1, max_channels).description(""))
        ->type_name("N[,N]");
}

void Command::footer(const std::string& text) {
    app_->footer(text);
}

void Command::when_run(std::function<void()> action) {
    app_->callback(std::move(action));
}

Program::Program(const std::string& name, const std::string& says, const std::string& version)
    : app_(std::make_unique<CLI::App>(says, name)) {
    // Before the commands, which take these over. None at all is for the program to tell, in words.
    app_->set_version_flag("--version", version);
    app_->formatter(std::make_shared<HelpFormatter>());
    app_->require_subcommand(0, 1);
}

Program::~Program() = default;

Command Program::command() {
    return Command(app_.get());
}

void Program::run(int argc, char** argv) {
    try {
        app_->parse(argc, argv);
    } catch (const CLI::ParseError& outcome) { // help and version too
        if (outcome.get_exit_code() != 0) {
            throw UsageError(std::string(outcome.what()) + ".\nTry: " + understood(*app_) + " --help");
        }
        std::ostringstream text;
        app_->exit(outcome, text, text);
        print(text.str());
    }
}

} // namespace retap::commands
