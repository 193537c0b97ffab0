#include "report/wording.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace retap::report {

namespace {

constexpr std::string_view minus = "\u2212";
constexpr std::string_view no_break = "\u00A0";
constexpr double range_of_16_bits_db = 96.0;

struct Reading {
    double value;
    std::string unit;
    int decimals;
};

Reading reading(double value, std::string_view unit) {
    const double size = std::abs(value);
    if (unit == "Hz") {
        return size >= 1000.0 ? Reading{value / 1000.0, "kHz", 2} : Reading{value, "Hz", 0};
    }
    if (unit == "dB" || unit == "dBFS") {
        return {value, std::string(unit), 1};
    }
    if (unit == "%" || unit == "samples") {
        return {value, std::string(unit), 0};
    }
    return {value, std::string(unit), size >= 100.0 ? 0 : size >= 10.0 ? 1 : 2};
}

std::string with_unit(std::string text, const std::string& unit) {
    if (!unit.empty()) {
        text += no_break;
        text += unit;
    }
    return text;
}

} // namespace

std::string number(double value, int decimals) {
    if (!std::isfinite(value)) {
        return "\u2013";
    }
    std::array<char, 400> buffer{}; // fixed notation of the largest double has 309 digits
    const auto [end, error] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), std::abs(value),
                                            std::chars_format::fixed, decimals);
    std::string digits = error == std::errc() ? std::string(buffer.data(), end) : std::string("\u2013");
    const bool zero = std::all_of(digits.begin(), digits.end(), [](char c) { return c == '0' || c == '.'; });
    return value < 0.0 && !zero ? std::string(minus) + digits : digits;
}

std::string quantity(double value, std::string_view unit) {
    const Reading r = reading(value, unit);
    return with_unit(number(r.value, r.decimals), r.unit);
}

std::string signed_quantity(double value, std::string_view unit) {
    const Reading r = reading(value, unit);
    std::string text = number(r.value, r.decimals);
    const bool zero = std::all_of(text.begin(), text.end(), [](char c) { return c == '0' || c == '.'; });
    if (std::isfinite(value) && value > 0.0 && !zero) {
        text.insert(0, "+");
    }
    return with_unit(text, r.unit);
}

std::string_view difference_unit(std::string_view unit) {
    return unit == "dBFS" ? "dB" : unit;
}

std::string margin_over_noise(double margin_db) {
    return margin_db > range_of_16_bits_db ? "more than " + with_unit(number(range_of_16_bits_db, 0), "dB")
                                           : with_unit(number(margin_db, 0), "dB");
}

std::string noise_level(double level_dbfs) {
    return level_dbfs < -range_of_16_bits_db ? "under " + with_unit(number(-range_of_16_bits_db, 0), "dBFS")
                                             : quantity(level_dbfs, "dBFS");
}

std::string count(std::size_t n, std::string_view one, std::string_view many) {
    return std::to_string(n) + std::string(no_break) + std::string(n == 1 ? one : many);
}

std::string measure_label(std::string_view name) {
    struct Label {
        std::string_view name;
        std::string_view label;
    };
    static constexpr std::array labels{
        Label{"first_sound", "Lead of the first sound"},
        Label{"onset_spread", "Spread of contacts"},
        Label{"rise", "Rise time"},
        Label{"duration", "Duration"},
        Label{"decay", "Decay"},
        Label{"peak", "Peak level"},
        Label{"energy", "Energy"},
        Label{"centroid", "Centre of the spectrum"},
        Label{"bands", "Spectrum shape"},
        Label{"left_lead", "Lead of the left side"},
        Label{"left_excess", "Left over right"},
    };
    for (const Label& label : labels) {
        if (label.name == name) {
            return std::string(label.label);
        }
    }
    std::string text(name);
    std::replace(text.begin(), text.end(), '_', ' ');
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    }
    return text;
}

std::string_view measure_meaning(std::string_view name) {
    if (name == "landing") {
        return "How many times as much the sides differ as taps of one unchanged bite do: about 1 when nothing has "
               "changed.";
    }
    if (name == "energy_profile") {
        return "The same of when the sound swells and fades, in three bands.";
    }
    if (name == "first_sound") {
        return "How long before the main impact the taps of a side begin to sound; only the change means something.";
    }
    return "";
}

std::string file_label(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    const std::string_view last = slash == std::string_view::npos ? path : path.substr(slash + 1);
    return std::string(last.empty() ? path : last);
}

} // namespace retap::report
