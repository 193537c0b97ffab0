#include "chart/notation.hpp"

#include <algorithm>

namespace retap::chart {

namespace {

/// The line around `at`, and a caret under it. Carets count characters, not bytes, so that text before it may be UTF-8.
std::string pointed(std::string_view text, std::size_t at, const std::string& fault) {
    const std::size_t before = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
    const std::size_t start = before == std::string_view::npos ? 0 : before + 1;
    const std::size_t end = std::min(text.find('\n', at), text.size());
    std::string padding;
    for (const char c : text.substr(start, at - start)) {
        const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
        if (!continues) {
            padding += c == '\t' ? '\t' : ' ';
        }
    }
    return "The chart cannot be read: " + fault + ".\n  " + std::string(text.substr(start, end - start)) + "\n  " +
           padding + "^";
}

} // namespace

NotationError::NotationError(std::string_view text, std::size_t at, const std::string& fault)
    : InputError(pointed(text, at, fault)), at_(at), fault_(fault) {}

} // namespace retap::chart
