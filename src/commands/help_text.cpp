#include "help_text.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <string>

namespace retap::commands {
namespace {

/// What CLI11 puts into one name: "UINT:3 to 100", "TEXT:{yes,no}", "FILE.html".
struct ToGive {
    std::string kind;
    std::string limits;
};

ToGive to_give(const CLI::Option& option) {
    const std::string full = option.get_type_name();
    const std::size_t colon = full.find(':');
    return {full.substr(0, colon), colon == std::string::npos ? "" : full.substr(colon + 1)};
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

bool takes_several(const CLI::Option& option) {
    return option.get_expected_max() == CLI::detail::expected_max_vector_size;
}

void add_part(std::string& parts, const std::string& part) {
    parts += parts.empty() ? part : "; " + part;
}

class HelpFormatter : public CLI::Formatter {
public:
    std::string make_option_opts(const CLI::Option* option) const override {
        if (option->get_type_size() == 0) {
            return "";
        }
        const bool several = takes_several(*option) && option->get_allow_extra_args();
        const ToGive given = to_give(*option);
        // A positional argument has a name already.
        const std::string what =
            option->get_positional() ? (is_choice(given) ? " " + choices(given) : "") : " " + name_of(given);
        return what + (several ? " ..." : "");
    }

    std::string make_option_desc(const CLI::Option* option) const override {
        std::string parts;
        if (option->get_type_size() != 0) {
            const ToGive given = to_give(*option);
            if (!given.limits.empty() && !is_choice(given)) {
                add_part(parts, given.limits);
            }
            if (const std::string otherwise = option->get_default_str(); !otherwise.empty()) {
                add_part(parts, otherwise + " when not given");
            }
            if (takes_several(*option) && !option->get_allow_extra_args()) {
                add_part(parts, "may be given again");
            }
            if (option->get_required() && !option->get_positional()) {
                add_part(parts, "must be given");
            }
        }
        for (const CLI::Option* other : option->get_needs()) {
            add_part(parts, "with " + other->get_name());
        }
        return option->get_description() + (parts.empty() ? "" : " (" + parts + ")");
    }
};

} // namespace

std::shared_ptr<CLI::FormatterBase> help_formatter() {
    return std::make_shared<HelpFormatter>();
}

} // namespace retap::commands
