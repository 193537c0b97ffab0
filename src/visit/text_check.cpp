#include "visit/text_check.hpp"

#include "error.hpp"

#include <algorithm>

namespace retap::visit {

namespace {

/// Bytes of the well-formed sequence at `at`, 0 when there is none.
std::size_t sequence_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
    const unsigned first = byte(0);
    if (first < 0x80U) {
        return 1;
    }
    const std::size_t length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
    if (first < 0xC2U || first > 0xF4U || at + length > text.size()) {
        return 0;
    }
    unsigned code = first & (0x7FU >> length);
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            return 0;
        }
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (length == 3 && code < 0x800U) || (length == 4 && code < 0x10000U);
    const bool surrogate = code >= 0xD800U && code <= 0xDFFFU;
    return overlong || surrogate || code > 0x10FFFFU ? 0 : length;
}

} // namespace

bool is_utf8(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t length = sequence_at(text, at);
        if (length == 0) {
            return false;
        }
        at += length;
    }
    return true;
}

void check_text(std::string_view text, const std::string& what) {
    if (text.size() > longest_text) {
        throw InputError("The text for " + what + " is longer than " + std::to_string(longest_text) +
                         " bytes. Shorten it.");
    }
    if (!is_utf8(text)) {
        throw InputError("The text for " + what + " is not UTF-8. Use a UTF-8 terminal or plain letters.");
    }
    const bool controls = std::any_of(text.begin(), text.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return (byte < 0x20U && c != '\n' && c != '\t') || byte == 0x7FU;
    });
    if (controls) {
        throw InputError("The text for " + what + " has control characters in it. Type it again.");
    }
}

bool looks_like_a_name(std::string_view label) {
    int words = 0;
    while (!label.empty()) {
        const std::size_t end = std::min(label.find(' '), label.size());
        const std::string_view word = label.substr(0, end);
        label.remove_prefix(std::min(end + 1, label.size()));
        if (word.empty()) {
            continue;
        }
        const auto is_capital = [](char c) { return c >= 'A' && c <= 'Z'; };
        const auto is_small = [](char c) { return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80U; };
        if (word.size() < 2 || !is_capital(word.front()) ||
            !std::all_of(word.begin() + 1, word.end(), [&](char c) { return is_small(c) || c == '-' || c == '.'; })) {
            return false;
        }
        ++words;
    }
    return words >= 2;
}

} // namespace retap::visit
