// Does a sound file hold as much sound as its header says? libsndfile quietly reads what is there; a take that lost its
// end must not pass for a whole one.
#pragma once

#include "audio/byte_source.hpp"

#include <cstdint>
#include <optional>

namespace retap::audio {

struct Shortfall {
    std::uint64_t promised_bytes = 0;
    std::uint64_t held_bytes = 0;
};

/// Walks the chunks of RIFF, RIFX, RF64 and AIFF/AIFC files up to the sound itself. Empty when the promise is kept,
/// when there is no sound chunk, and for every other format: those announce their length in ways that reading finds
/// out.
[[nodiscard]] std::optional<Shortfall> find_shortfall(const ByteSource& source);

} // namespace retap::audio
