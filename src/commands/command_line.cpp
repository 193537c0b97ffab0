#include "command_line.hpp"

#include <charconv>
#include <cstdint>
#include <sstream>
#include <string>

namespace retap::commands {
namespace {

/// As short as it can be said: 600, 0.5.
std::string short_number(double value) {
    std::ostringstream text;
    text << value;
    return text.str();
}

} // namespace

CLI::Validator within(double lowest, double highest) {
    const std::string limits = short_number(lowest) + " to " + short_number(highest);
    return {[lowest, highest, limits](const std::string& given) {
                double value = 0.0;
                const bool fits = CLI::detail::lexical_cast(given, value) && value >= lowest && value <= highest;
                return fits ? std::string() : "Value " + given + " not in range " + limits;
            },
            limits};
}

CLI::Validator counting_number() {
    return {[](const std::string& given) {
                std::int64_t value = 0;
                const char* const last = given.data() + given.size();
                const auto [end, error] = std::from_chars(given.data(), last, value);
                const bool fits = error == std::errc() && end == last && value > 0;
                return fits ? std::string() : "'" + given + "' is not a number from 1 up";
            },
            ""};
}

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
        ->check(within(1, most_channels).description(""))
        ->type_name("N[,N]");
}

} // namespace retap::commands
