// What the process that decodes writes into the pipe, and what reads it expects. Both are built together and run on one
// machine, so numbers are as memory has them; the reader believes none of them without a look.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

namespace retap::audio::decoder_wire {

/// The program that decodes, beside this one or in ../lib/retap: the file is its standard input, the pipe its standard
/// output.
inline constexpr const char* program = "retap-decoder";

inline constexpr std::array<char, 8> mark{'r', 'e', 't', 'a', 'p', 'd', 'e', 'c'};
inline constexpr std::size_t text_bytes = 200;
inline constexpr std::size_t name_bytes = 32;
inline constexpr std::int32_t most_frames = 1 << 16; ///< in one block
inline constexpr std::int32_t most_channels = 64;

/// First, once.
struct Head {
    std::array<char, 8> mark{};
    std::int32_t sample_rate_hz = 0;
    std::int32_t channels = 0;
    std::array<char, name_bytes> codec{}; ///< ends with a zero; empty for one that throws nothing away
};

/// Before each block of `frames` times the channels as float; then one with 0 frames at the end, or less at a fault.
struct BlockHead {
    std::int32_t frames = 0;
};

/// After a fault: a sentence without its full stop, as "it holds no sound".
struct Fault {
    std::array<char, text_bytes> text{};
};

} // namespace retap::audio::decoder_wire
