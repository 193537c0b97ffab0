// How --help reads: for people who know no type names.
#pragma once

#include <string>
#include <vector>

namespace retap::commands {

/// What --help tells of one option, argument or flag.
struct OptionFacts {
    std::string description;
    std::string type; ///< "UINT:3 to 100", "TEXT:{yes,no}", "FILE.html": what is to be given, and its limits
    std::string when_not_given;
    std::vector<std::string> needs; ///< names of the options that must be given with it
    bool flag = false;              ///< nothing is to be given with it
    bool positional = false;
    bool required = false;
    bool several_values = false; ///< all that follow are its own
    bool may_come_again = false;
};

/// What stands behind the name, with a space ahead: N, TEXT, or the words to choose from. Empty for a flag, and for an
/// argument, which has a name already, unless there are words to choose from.
[[nodiscard]] std::string what_to_give(const OptionFacts& option);

/// The description with limits and what holds when nothing is given.
[[nodiscard]] std::string option_description(const OptionFacts& option);

} // namespace retap::commands
