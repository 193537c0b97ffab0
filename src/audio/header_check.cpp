#include "audio/header_check.hpp"

#include <array>
#include <string_view>

namespace retap::audio {
namespace {

/// Reads tags and numbers of either byte order; false once anything lay beyond the end.
class Field {
public:
    Field(const ByteSource& source, bool big_endian) : source_(source), big_endian_(big_endian) {}

    [[nodiscard]] bool tag_is(std::uint64_t offset, std::string_view tag) {
        std::array<std::byte, 4> bytes{};
        read(offset, bytes);
        for (std::size_t i = 0; i < tag.size(); ++i) {
            if (bytes.at(i) != static_cast<std::byte>(tag[i])) {
                return false;
            }
        }
        return good_;
    }

    template <std::size_t size>
    [[nodiscard]] std::uint64_t number(std::uint64_t offset) {
        std::array<std::byte, size> bytes{};
        read(offset, bytes);
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < size; ++i) {
            value = (value << 8U) | std::to_integer<std::uint64_t>(bytes.at(big_endian_ ? i : size - 1 - i));
        }
        return value;
    }

    [[nodiscard]] bool good() const { return good_; }

private:
    void read(std::uint64_t offset, std::span<std::byte> bytes) {
        good_ = good_ && source_.read_at(offset, bytes) == bytes.size();
    }

    const ByteSource& source_;
    bool big_endian_;
    bool good_ = true;
};

struct Family {
    bool big_endian = false;
    std::string_view sound_tag;
};

std::optional<Family> family_of(const ByteSource& source) {
    Field field(source, true);
    const bool wave = field.tag_is(8, "WAVE");
    if (wave && (field.tag_is(0, "RIFF") || field.tag_is(0, "RF64"))) {
        return Family{.big_endian = false, .sound_tag = "data"};
    }
    if (wave && field.tag_is(0, "RIFX")) {
        return Family{.big_endian = true, .sound_tag = "data"};
    }
    if (field.tag_is(0, "FORM") && (field.tag_is(8, "AIFF") || field.tag_is(8, "AIFC"))) {
        return Family{.big_endian = true, .sound_tag = "SSND"};
    }
    return std::nullopt;
}

} // namespace

std::optional<Shortfall> find_shortfall(const ByteSource& source) {
    const auto family = family_of(source);
    if (!family) {
        return std::nullopt;
    }
    constexpr std::uint64_t chunk_header = 8;
    constexpr std::uint64_t size_elsewhere = 0xFFFFFFFFU; // RF64: the true size stands in its ds64 chunk
    Field field(source, family->big_endian);
    std::optional<std::uint64_t> long_size;
    for (std::uint64_t at = 12; at + chunk_header <= source.size();) {
        std::uint64_t size = field.number<4>(at + 4);
        if (field.tag_is(at, "ds64")) {
            long_size = field.number<8>(at + chunk_header + 8);
        }
        if (field.tag_is(at, family->sound_tag)) {
            if (size == size_elsewhere && long_size) {
                size = *long_size;
            }
            const std::uint64_t held = source.size() - at - chunk_header;
            return size > held ? std::optional(Shortfall{.promised_bytes = size, .held_bytes = held}) : std::nullopt;
        }
        if (!field.good()) {
            return std::nullopt;
        }
        at += chunk_header + size + size % 2; // chunks start on even bytes
    }
    return std::nullopt;
}

} // namespace retap::audio
