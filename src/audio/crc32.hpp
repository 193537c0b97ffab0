// A checksum for what is written to disk.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>

namespace retap::audio {

/// CRC-32 as in IEEE 802.3 (reflected polynomial 0xEDB88320, start and final value all ones). `earlier` is the checksum
/// of the bytes before, so that pieces can be summed one after the other. Finds every single burst of up to 32 bits;
/// other damage passes unseen once in 2^32.
[[nodiscard]] std::uint32_t crc32(std::span<const std::byte> bytes, std::uint32_t earlier = 0);

} // namespace retap::audio
