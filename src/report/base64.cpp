#include "report/base64.hpp"

#include <cstddef>
#include <cstdint>

namespace retap::report {

std::string base64(std::string_view bytes) {
    static constexpr std::string_view alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
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

} // namespace retap::report
