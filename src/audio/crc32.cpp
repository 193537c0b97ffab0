#include "audio/crc32.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

namespace retap::audio {
namespace {

constexpr std::array<std::uint32_t, 256> make_table() {
    std::array<std::uint32_t, 256> table{};
    for (std::uint32_t byte = 0; byte < 256; ++byte) {
        std::uint32_t value = byte;
        for (int bit = 0; bit < 8; ++bit) {
            value = (value & 1U) != 0 ? 0xEDB88320U ^ (value >> 1U) : value >> 1U;
        }
        table[byte] = value;
    }
    return table;
}
constexpr auto table = make_table();

} // namespace

std::uint32_t crc32(std::span<const std::byte> bytes, std::uint32_t earlier) {
    std::uint32_t value = ~earlier;
    for (const std::byte byte : bytes) {
        value = table[(value ^ std::to_integer<std::uint32_t>(byte)) & 0xFFU] ^ (value >> 8U);
    }
    return ~value;
}

} // namespace retap::audio
