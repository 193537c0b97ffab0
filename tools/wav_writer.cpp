#include "wav_writer.hpp"

#include <bit>
#include <cassert>
#include <cstdint>
#include <fstream>
#include <stdexcept>
#include <string>

namespace retap::tools {

namespace {
void put(std::string& out, std::uint32_t value, int bytes) {
    for (int i = 0; i < bytes; ++i) {
        out.push_back(static_cast<char>((value >> (8 * i)) & 0xFFU));
    }
}
} // namespace

void write_float_wav(const std::filesystem::path& path, double sample_rate_hz,
                     const std::vector<std::vector<float>>& channels) {
    assert(!channels.empty());
    const auto count = static_cast<std::uint32_t>(channels.size());
    const auto frames = static_cast<std::uint32_t>(channels.front().size());
    const auto rate = static_cast<std::uint32_t>(sample_rate_hz);
    const std::uint32_t bytes = 4 * count * frames;
    std::string out = "RIFF";
    put(out, 36 + bytes, 4);
    out += "WAVEfmt ";
    put(out, 16, 4);
    put(out, 3, 2); // IEEE float
    put(out, count, 2);
    put(out, rate, 4);
    put(out, rate * 4 * count, 4);
    put(out, 4 * count, 2);
    put(out, 32, 2);
    out += "data";
    put(out, bytes, 4);
    for (std::uint32_t n = 0; n < frames; ++n) {
        for (const auto& channel : channels) {
            put(out, std::bit_cast<std::uint32_t>(channel[n]), 4);
        }
    }
    std::ofstream file(path, std::ios::binary);
    file.write(out.data(), static_cast<std::streamsize>(out.size()));
    if (!file) {
        throw std::runtime_error("Cannot write the sound file " + path.string() + ": check the folder and the space.");
    }
}

} // namespace retap::tools
