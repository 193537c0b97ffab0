#include "validate/options.hpp"

#include <algorithm>
#include <charconv>
#include <ctime>
#include <stdexcept>

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

struct Only {
    bool table = false;
    bool contacts = false;
    bool taps = false;
};

void choose(const std::string& part, Only& only) {
    if (part == "table") {
        only.table = true;
    } else if (part == "contacts") {
        only.contacts = true;
    } else if (part == "taps") {
        only.taps = true;
    } else {
        throw std::invalid_argument("--only knows table, contacts and taps, not '" + part + "'.");
    }
}

} // namespace

std::string_view usage() {
    return "usage: validate [--patients N] [--seed S] [--out DIR] [--only table|contacts|taps]... [--date YYYY-MM-DD]\n"
           "                [--taps-a-take N] [--cores N]\n"
           "Judges Retap on simulated patients whose truth is known: before against after, contact times, taps found.\n"
           "Prints its tables; with --out it also writes a page, plots and all numbers there.\n";
}

Options read_options(const std::vector<std::string>& arguments) {
    Options options;
    Only only;
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
        } else if (option == "--cores") {
            options.cores = number<std::size_t>(option, value());
        } else {
            throw std::invalid_argument("'" + option + "' is not an option here.");
        }
    }
    if (options.patients == 0) {
        throw std::invalid_argument("--patients needs at least 1.");
    }
    if (options.taps_a_take < 1 || options.taps_a_take > max_taps) {
        throw std::invalid_argument("--taps-a-take needs 1 to " + std::to_string(max_taps) + ".");
    }
    if (only.table || only.contacts || only.taps) {
        options.table = only.table;
        options.contacts = only.contacts;
        options.taps = only.taps;
    }
    if (options.date.empty()) {
        options.date = today();
    }
    return options;
}

} // namespace retap::validate
