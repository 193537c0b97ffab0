#include "audio/sound_magic.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstddef>
#include <fstream>
#include <string>

namespace retap::audio {
namespace {

using namespace std::string_view_literals;

struct Beginning {
    std::size_t at = 0;
    std::string_view bytes;
    std::string_view kind;
};

constexpr std::array beginnings{
    Beginning{8, "WAVE"sv, "WAV"sv},     Beginning{0, "riff\x2e\x91\xcf\x11"sv, "W64"sv},
    Beginning{0, "fLaC"sv, "FLAC"sv},    Beginning{8, "AIFF"sv, "AIFF"sv},
    Beginning{8, "AIFC"sv, "AIFF"sv},    Beginning{0, "OggS"sv, "OGG"sv},
    Beginning{0, "caff"sv, "CAF"sv},     Beginning{0, ".snd"sv, "AU"sv},
    Beginning{0, "ID3"sv, "MP3"sv},      Beginning{4, "ftyp"sv, "MP4"sv},
    Beginning{4, "moov"sv, "MP4"sv},     Beginning{4, "mdat"sv, "MP4"sv},
    Beginning{4, "wide"sv, "MP4"sv},     Beginning{0, "\x1a\x45\xdf\xa3"sv, "WebM"sv},
    Beginning{0, "#!AMR"sv, "AMR"sv},    Beginning{0, "\x30\x26\xb2\x75\x8e\x66\xcf\x11"sv, "WMA"sv},
    Beginning{0, "\xff\xf1"sv, "AAC"sv}, Beginning{0, "\xff\xf9"sv, "AAC"sv},
    Beginning{0, "wvpk"sv, "WavPack"sv}, Beginning{0, "MAC "sv, "APE"sv},
};

bool begins(std::string_view text, const Beginning& beginning) {
    return text.size() >= beginning.at && text.substr(beginning.at).starts_with(beginning.bytes);
}

/// Eleven set bits, then a version and a layer that exist.
bool mpeg_frame(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    return text.size() >= 3 && byte(0) == 0xFFU && (byte(1) & 0xE0U) == 0xE0U && (byte(1) & 0x18U) != 0x08U &&
           (byte(1) & 0x06U) != 0 && (byte(2) & 0xF0U) != 0xF0U;
}

} // namespace

std::optional<std::string_view> sound_kind(std::span<const std::byte> first_bytes) {
    const std::string_view text(reinterpret_cast<const char*>(first_bytes.data()), first_bytes.size());
    const auto found = std::ranges::find_if(beginnings, [&](const Beginning& one) { return begins(text, one); });
    return found == beginnings.end() ? std::nullopt : std::optional(found->kind);
}

std::optional<std::string_view> sound_kind(const std::filesystem::path& file) {
    std::error_code unknown; // then it is nothing that could be told
    if (!std::filesystem::is_regular_file(file, unknown)) {
        return std::nullopt;
    }
    std::array<char, 16> first{};
    std::ifstream in(file, std::ios::binary);
    in.read(first.data(), first.size());
    const std::string_view text(first.data(), static_cast<std::size_t>(in.gcount()));
    if (const auto kind = sound_kind(std::as_bytes(std::span(text)))) {
        return kind;
    }
    std::string ending = file.extension().string();
    std::ranges::transform(ending, ending.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return ending == ".mp3" && mpeg_frame(text) ? std::optional("MP3"sv) : std::nullopt;
}

} // namespace retap::audio
