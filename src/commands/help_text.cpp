#include "help_text.hpp"

#include <algorithm>
#include <cstddef>

namespace retap::commands {
namespace {

struct ToGive {
    std::string kind;
    std::string limits;
};

ToGive to_give(const OptionFacts& option) {
    const std::size_t colon = option.type.find(':');
    return {option.type.substr(0, colon), colon == std::string::npos ? "" : option.type.substr(colon + 1)};
}

bool is_choice(const ToGive& given) {
    return given.limits.starts_with('{') && given.limits.ends_with('}');
}

/// "silent|quiet|busy" of "{silent,quiet,busy}".
std::string choices(const ToGive& given) {
    std::string words = given.limits.substr(1, given.limits.size() - 2);
    std::ranges::replace(words, ',', '|');
    return words;
}

std::string name_of(const ToGive& given) {
    const bool number = given.kind == "INT" || given.kind == "UINT" || given.kind == "FLOAT";
    return is_choice(given) ? choices(given) : number ? "N" : given.kind;
}

void add_part(std::string& parts, const std::string& part) {
    parts += parts.empty() ? part : "; " + part;
}

} // namespace

std::string what_to_give(const OptionFacts& option) {
    if (option.flag) {
        return "";
    }
    const ToGive given = to_give(option);
    const bool named_already = option.positional && !is_choice(given);
    return (named_already ? "" : " " + name_of(given)) + (option.several_values ? " ..." : "");
}

std::string option_description(const OptionFacts& option) {
    std::string parts;
    if (!option.flag) {
        const ToGive given = to_give(option);
        if (!given.limits.empty() && !is_choice(given)) {
            add_part(parts, given.limits);
        }
        if (!option.when_not_given.empty()) {
            add_part(parts, option.when_not_given + " when not given");
        }
        if (option.may_come_again) {
            add_part(parts, "may be given again");
        }
        if (option.required && !option.positional) {
            add_part(parts, "must be given");
        }
    }
    for (const std::string& other : option.needs) {
        add_part(parts, "with " + other);
    }
    return option.description + (parts.empty() ? "" : " (" + parts + ")");
}

} // namespace retap::commands
