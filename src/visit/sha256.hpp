// SHA-256 (FIPS 180-4) through OpenSSL's libcrypto.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace retap::visit {

/// As 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256(std::string_view bytes);
[[nodiscard]] std::string sha256(std::span<const std::byte> bytes);

} // namespace retap::visit
