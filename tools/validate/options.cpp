#include "validate/options.hpp"

#include <algorithm>
#include <charconv>
#include <ctime>
#include <stdexcept>
#include <utility>

namespace retap::validate {

namespace {

template <class Number>
Number number(const std::string& option, const std::string& text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) {
        throw std::invalid_argument(option + " needs a whole number, not '" + text + "'.");
    }
    return value;
}

std::string today() {
    const std::time_t now = std::time(nullptr);
    std::tm utc{};
    gmtime_r(&now, &utc);
    char text[16];
    return {text, std::strftime(text, sizeof text, "%Y-%m-%d", &utc)};
}

void check_date(const std::string& text) {
    const bool good = text.size() == 10 && text[4] == '-' && text[7] == '-' &&
                      std::ranges::count_if(text, [](char c) { return c >= '0' && c <= '9'; }) == 8;
    if (!good) {
        throw std::invalid_argument("--date needs YYYY-MM-DD, not '" + text + "'.");
    }
}

constexpr int max_taps = 48;
constexpr std::size_t max_takes = 5;

struct Only {
    bool table = false;
    bool contacts = false;
    bool taps = false;
    bool echoes = false;
    bool takes = false; // nothing is judged, only files are written
    [[nodiscard]] bool any() const { return table || contacts || taps || echoes || takes; }
};

void choose(const std::string& part, Only& only) {
    if (part == "table") {
        only.table = true;
    } else if (part == "contacts") {
        only.contacts = true;
    } else if (part == "taps") {
        only.taps = true;
    } else if (part == "echoes") {
        only.echoes = true;
    } else if (part == "takes") {
        only.takes = true;
    } else {
        throw std::invalid_argument("--only knows table, contacts, taps, echoes and takes, not '" + part + "'.");
    }
}

} // namespace

std::string_view usage() {
    return "usage: validate [--patients N] [--seed S] [--family NAME]... [--only table|contacts|taps|echoes|takes]...\n"
           "                [--taps-a-take N] [--takes-before N] [--takes-after N] [--repeats-keep-seat]\n"
           "                [--two-pick-ups]\n"
           "                [--out DIR] [--pairs-csv FILE] [--write-takes DIR] [--date YYYY-MM-DD] [--cores N]\n"
           "Judges Retap on simulated patients whose truth is known: before against after, contact times, taps found,\n"
           "second knocks. Prints its tables; with --out it also writes a page, plots and all numbers there.\n"
           "--family: a mechanics (light, stopping, chance, mixed), a sound (modal, strikes, turns) or both\n"
           "(stopping-strikes); without it every mechanics with modal and strikes. Contact times and taps found look "
           "at\n"
           "the families of the first mechanics alone.\n"
           "--write-takes: the takes of the pairs as float WAV with their truth; --only takes judges nothing.\n";
}

namespace {

void add_families(const std::string& word, std::vector<Family>& families) {
    const std::vector<Family> named = families_named(word);
    if (named.empty()) {
        throw std::invalid_argument("--family knows light, stopping, chance, mixed, modal, strikes, turns and two of "
                                    "them joined by '-', not '" +
                                    word + "'.");
    }
    for (const Family& family : named) {
        if (std::ranges::find(families, family) == families.end()) {
            families.push_back(family);
        }
    }
}

void choose_parts(const Only& only, Options& options) {
    if (only.takes && options.takes.empty()) {
        throw std::invalid_argument("--only takes needs --write-takes DIR.");
    }
    if (only.any()) {
        options.table = only.table;
        options.contacts = only.contacts;
        options.taps = only.taps;
        options.echoes = only.echoes;
    }
}

void check_counts(const Options& options) {
    if (options.patients == 0) {
        throw std::invalid_argument("--patients needs at least 1.");
    }
    if (options.taps_a_take < 1 || options.taps_a_take > max_taps) {
        throw std::invalid_argument("--taps-a-take needs 1 to " + std::to_string(max_taps) + ".");
    }
    for (const std::size_t takes : {options.takes_before, options.takes_after}) {
        if (takes < 1 || takes > max_takes) {
            throw std::invalid_argument("--takes-before and --takes-after need 1 to " + std::to_string(max_takes) +
                                        ".");
        }
    }
}

} // namespace

Options read_options(const std::vector<std::string>& arguments) {
    Options options;
    Only only;
    std::vector<Family> families;
    options.command = "validate";
    for (const std::string& argument : arguments) {
        options.command += " " + argument;
    }
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const std::string& option = arguments[i];
        const auto value = [&]() -> const std::string& {
            if (i + 1 >= arguments.size()) {
                throw std::invalid_argument(option + " needs a value.");
            }
            return arguments[++i];
        };
        if (option == "--patients") {
            options.patients = number<std::size_t>(option, value());
        } else if (option == "--seed") {
            options.seed = number<std::uint64_t>(option, value());
        } else if (option == "--out") {
            options.out = value();
        } else if (option == "--only") {
            choose(value(), only);
        } else if (option == "--date") {
            options.date = value();
            check_date(options.date);
        } else if (option == "--taps-a-take") {
            options.taps_a_take = number<int>(option, value());
        } else if (option == "--family") {
            add_families(value(), families);
        } else if (option == "--takes-before") {
            options.takes_before = number<std::size_t>(option, value());
        } else if (option == "--takes-after") {
            options.takes_after = number<std::size_t>(option, value());
        } else if (option == "--repeats-keep-seat") {
            options.repeats_keep_seat = true;
        } else if (option == "--two-pick-ups") {
            options.two_pick_ups = true;
        } else if (option == "--pairs-csv") {
            options.pairs_csv = value();
        } else if (option == "--write-takes") {
            options.takes = value();
        } else if (option == "--cores") {
            options.cores = number<std::size_t>(option, value());
        } else {
            throw std::invalid_argument("'" + option + "' is not an option here.");
        }
    }
    check_counts(options);
    choose_parts(only, options);
    if (!families.empty()) {
        options.families = std::move(families);
    }
    if (options.date.empty()) {
        options.date = today();
    }
    return options;
}

} // namespace retap::validate
