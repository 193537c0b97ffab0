#include "audio/named_formats.hpp"

namespace retap::audio {

bool is_named_format(std::span<const std::byte> first_bytes) {
    const std::string_view text(reinterpret_cast<const char*>(first_bytes.data()), first_bytes.size());
    const auto has = [&](std::size_t at, std::string_view mark) {
        return text.size() >= at && text.substr(at).starts_with(mark);
    };
    const bool wav = (has(0, "RIFF") || has(0, "RF64")) && has(8, "WAVE");
    const bool aiff = has(0, "FORM") && (has(8, "AIFF") || has(8, "AIFC"));
    // Eleven set bits, as each frame of MPEG audio begins with (ISO/IEC 11172-3, 2.4.1.3), unless a tag stands before
    // it.
    const bool mp3 =
        has(0, "ID3") || (has(0, "\xFF") && text.size() >= 2 && (static_cast<unsigned char>(text[1]) & 0xE0U) == 0xE0U);
    return wav || aiff || mp3 || has(0, "fLaC") || has(0, "OggS");
}

} // namespace retap::audio
