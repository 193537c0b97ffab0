#include "report/base64.hpp"

#include <cstddef>
#include <cstdint>

namespace retap::report {

namespace {

constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr std::uint32_t no_letter = 64;

std::uint32_t six_bits(char letter) {
    const std::size_t at = alphabet.find(letter);
    return at == std::string_view::npos ? no_letter : static_cast<std::uint32_t>(at);
}

} // namespace

std::string base64(std::string_view bytes) {
    const auto byte = [&](std::size_t i) {
        return i < bytes.size() ? static_cast<std::uint32_t>(static_cast<std::uint8_t>(bytes[i])) : 0U;
    };
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::uint32_t group = byte(i) << 16 | byte(i + 1) << 8 | byte(i + 2);
        out += alphabet[group >> 18];
        out += alphabet[group >> 12 & 63U];
        out += i + 1 < bytes.size() ? alphabet[group >> 6 & 63U] : '=';
        out += i + 2 < bytes.size() ? alphabet[group & 63U] : '=';
    }
    return out;
}

std::optional<std::string> from_base64(std::string_view text) {
    if (text.size() % 4 != 0) {
        return std::nullopt;
    }
    const std::size_t padding = text.ends_with("==") ? 2 : text.ends_with('=') ? 1 : 0;
    text.remove_suffix(padding);
    std::string bytes;
    bytes.reserve(text.size() / 4 * 3 + 2);
    std::uint32_t bits = 0;
    unsigned held = 0;
    for (const char letter : text) {
        const std::uint32_t six = six_bits(letter);
        if (six == no_letter) {
            return std::nullopt;
        }
        bits = (bits << 6U | six) & 0xFFFFU;
        held += 6;
        if (held >= 8) {
            held -= 8;
            bytes += static_cast<char>(static_cast<std::uint8_t>(bits >> held & 0xFFU));
        }
    }
    const bool left_over = (bits & ((1U << held) - 1U)) != 0;
    return left_over ? std::nullopt : std::optional(bytes);
}

} // namespace retap::report
