#include "visit/text_check.hpp"

#include "error.hpp"
#include "utf8.hpp"

#include <algorithm>

namespace retap::visit {

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
