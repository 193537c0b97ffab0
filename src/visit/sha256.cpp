#include "visit/sha256.hpp"

#include <array>
#include <openssl/evp.h>
#include <stdexcept>

namespace retap::visit {

namespace {

std::string hash(const void* data, std::size_t size) {
    std::array<unsigned char, 32> digest{};
    unsigned int length = 0;
    if (EVP_Digest(data, size, digest.data(), &length, EVP_sha256(), nullptr) != 1 || length != digest.size()) {
        throw std::runtime_error("libcrypto cannot compute SHA-256");
    }
    static constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (const unsigned char byte : digest) {
        text += digits[byte >> 4U];
        text += digits[byte & 15U];
    }
    return text;
}

} // namespace

std::string sha256(std::string_view bytes) {
    return hash(bytes.data(), bytes.size());
}

std::string sha256(std::span<const std::byte> bytes) {
    return hash(bytes.data(), bytes.size());
}

} // namespace retap::visit
