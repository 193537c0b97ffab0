#include "validate/text_table.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace retap::validate {

namespace {

std::string unit_fraction(double value) {
    const std::string text = fixed(value, 2);
    return text.starts_with("0.") ? text.substr(1) : text;
}

std::string quoted(const std::string& cell) {
    if (cell.find_first_of(",\"\n") == std::string::npos) {
        return cell;
    }
    std::string out = "\"";
    for (const char c : cell) {
        out += c == '"' ? std::string("\"\"") : std::string(1, c);
    }
    return out + "\"";
}

// Characters, not bytes: those that continue a UTF-8 sequence do not count.
std::size_t width_of(const std::string& text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

} // namespace

std::string markdown(const TextTable& table) {
    std::vector<std::size_t> widths(table.head.size(), 3);
    const auto widen = [&](const std::vector<std::string>& row) {
        assert(row.size() == widths.size());
        for (std::size_t c = 0; c < row.size(); ++c) {
            widths[c] = std::max(widths[c], width_of(row[c]));
        }
    };
    widen(table.head);
    std::ranges::for_each(table.rows, widen);
    const auto line = [&](const std::vector<std::string>& row) {
        std::string text = "|";
        for (std::size_t c = 0; c < row.size(); ++c) {
            const std::string padding(widths[c] - width_of(row[c]), ' ');
            text += " " + (c == 0 ? row[c] + padding : padding + row[c]) + " |";
        }
        return text + "\n";
    };
    std::string out = line(table.head) + "|";
    for (std::size_t c = 0; c < widths.size(); ++c) {
        out += " " + std::string(widths[c] - 1, '-') + (c == 0 ? "-" : ":") + " |";
    }
    out += "\n";
    for (const auto& row : table.rows) {
        out += line(row);
    }
    return out;
}

std::string csv(const TextTable& table) {
    const auto line = [&](const std::vector<std::string>& row) {
        assert(row.size() == table.head.size());
        std::string text;
        for (const std::string& cell : row) {
            text += (text.empty() && &cell == row.data() ? "" : ",") + quoted(cell);
        }
        return text + "\n";
    };
    std::string out = line(table.head);
    for (const auto& row : table.rows) {
        out += line(row);
    }
    return out;
}

std::string fixed(double value, int decimals) {
    if (!std::isfinite(value)) {
        return "-";
    }
    std::array<char, 400> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
    assert(error == std::errc());
    return {text.data(), end};
}

std::string with_interval(double value, double low, double high) {
    return unit_fraction(value) + " (" + unit_fraction(low) + "-" + unit_fraction(high) + ")";
}

std::string percent(const Share& share) {
    if (share.of <= 0.0) {
        return "-";
    }
    return fixed(100.0 * share.value, 0) + " % (" + fixed(100.0 * share.low, 0) + "-" + fixed(100.0 * share.high, 0) +
           ")";
}

} // namespace retap::validate
