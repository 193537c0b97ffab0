#include "visit/text_check.hpp"

#include "error.hpp"
#include "utf8.hpp"

#include <algorithm>
#include <array>

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

bool is_blank(std::string_view text) {
    // White space and characters without width as Unicode 15 names them (White_Space, and U+200B to U+200D, U+2060,
    // U+FEFF).
    static constexpr std::array<std::string_view, 27> unseen = {" ",
                                                                "\t",
                                                                "\n",
                                                                "\r",
                                                                "\xC2\x85",
                                                                "\xC2\xA0",
                                                                "\xE1\x9A\x80",
                                                                "\xE2\x80\x80",
                                                                "\xE2\x80\x81",
                                                                "\xE2\x80\x82",
                                                                "\xE2\x80\x83",
                                                                "\xE2\x80\x84",
                                                                "\xE2\x80\x85",
                                                                "\xE2\x80\x86",
                                                                "\xE2\x80\x87",
                                                                "\xE2\x80\x88",
                                                                "\xE2\x80\x89",
                                                                "\xE2\x80\x8A",
                                                                "\xE2\x80\x8B",
                                                                "\xE2\x80\x8C",
                                                                "\xE2\x80\x8D",
                                                                "\xE2\x80\xA8",
                                                                "\xE2\x80\xA9",
                                                                "\xE2\x80\xAF",
                                                                "\xE2\x81\x9F",
                                                                "\xE2\x81\xA0",
                                                                "\xE3\x80\x80"};
    while (!text.empty()) {
        const auto* const next =
            std::find_if(unseen.begin(), unseen.end(), [&](std::string_view one) { return text.starts_with(one); });
        if (next == unseen.end() && !text.starts_with("\xEF\xBB\xBF")) {
            return false;
        }
        text.remove_prefix(next == unseen.end() ? 3 : next->size());
    }
    return true;
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
