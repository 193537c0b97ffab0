#include "audio/crc32.hpp"

#include <zlib.h>

namespace retap::audio {

std::uint32_t crc32(std::span<const std::byte> bytes, std::uint32_t earlier) {
    if (bytes.empty()) { // zlib takes a null pointer for the wish to start anew
        return earlier;
    }
    return static_cast<std::uint32_t>(::crc32_z(earlier, reinterpret_cast<const Bytef*>(bytes.data()), bytes.size()));
}

} // namespace retap::audio
