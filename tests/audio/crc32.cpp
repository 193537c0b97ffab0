#include "audio/crc32.hpp"

#include <cstddef>
#include <doctest/doctest.h>
#include <span>
#include <string_view>

using retap::audio::crc32;

namespace {
std::span<const std::byte> bytes_in(std::string_view text) {
    return std::as_bytes(std::span(text));
}
} // namespace

TEST_CASE("the checksum of 123456789 is the published check value of CRC-32") {
    // Check value CBF43926 of the CRC of IEEE 802.3 and ITU-T V.42, as catalogues of CRC parameters list it; from
    // memory.
    CHECK(crc32(bytes_in("123456789")) == 0xCBF43926U);
}

TEST_CASE("a text summed in pieces has the checksum of the whole") {
    CHECK(crc32(bytes_in("6789"), crc32(bytes_in("12345"))) == crc32(bytes_in("123456789")));
    CHECK(crc32({}) == 0U);
}
