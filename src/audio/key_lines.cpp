#include "audio/key_lines.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>

namespace retap::audio {
namespace {

std::string escaped(std::string_view value) {
    std::string out;
    for (const char c : value) {
        switch (c) {
        case '\n':
            out += "\\n";
            break;
        case '\r':
            out += "\\r";
            break;
        case '\\':
            out += "\\\\";
            break;
        default:
            out += c;
        }
    }
    return out;
}

std::string unescaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '\\' || i + 1 == text.size()) {
            out += text[i];
            continue;
        }
        ++i;
        out += text[i] == 'n' ? '\n' : text[i] == 'r' ? '\r' : text[i];
    }
    return out;
}

} // namespace

std::string write_key_lines(const KeyLines& lines) {
    std::string out;
    for (const auto& [key, value] : lines) {
        assert(key.find_first_of(":\n\r") == std::string::npos);
        out += key + ": " + escaped(value) + "\n";
    }
    return out;
}

KeyLines read_key_lines(std::string_view text) {
    KeyLines lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        const std::size_t colon = line.find(':');
        if (colon == std::string_view::npos) {
            continue;
        }
        std::string_view value = line.substr(colon + 1);
        value.remove_prefix(value.starts_with(' ') ? 1 : 0);
        lines.emplace_back(std::string(line.substr(0, colon)), unescaped(value));
    }
    return lines;
}

std::string value_of(const KeyLines& lines, std::string_view key) {
    const auto found = std::find_if(lines.begin(), lines.end(), [&](const auto& line) { return line.first == key; });
    return found == lines.end() ? std::string() : found->second;
}

std::string write_number(double value) {
    std::array<char, 32> digits{};
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value);
    return {digits.data(), end.ptr};
}

std::optional<double> read_number(std::string_view text) {
    double value = 0.0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), value);
    if (end.ec != std::errc() || end.ptr != text.data() + text.size() || !std::isfinite(value)) {
        return std::nullopt;
    }
    return value;
}

} // namespace retap::audio
