// Sounds that the tests of this folder read and write.
#pragma once

#include "audio/sound_writer.hpp"
#include "error.hpp"

#include <cstddef>
#include <random>
#include <string>
#include <vector>

namespace retap::test {

/// Noise at half scale with a fixed seed: every sample differs from its neighbours, so a shift or a swap shows.
inline audio::Sound noise_sound(double rate_hz, int channels, std::size_t frames, unsigned seed = 1) {
    audio::Sound sound{.sample_rate_hz = rate_hz, .channels = channels, .interleaved = {}};
    std::mt19937 engine(seed);
    sound.interleaved.resize(frames * static_cast<std::size_t>(channels));
    for (float& x : sound.interleaved) {
        x = static_cast<float>(static_cast<double>(engine()) / 4294967296.0 - 0.5);
    }
    return sound;
}

inline std::string as_text(const std::vector<std::byte>& bytes) {
    std::string text;
    for (const std::byte b : bytes) {
        text.push_back(static_cast<char>(b));
    }
    return text;
}

/// The message of the InputError that `action` ends with, or a note that there was none.
template <class Action>
std::string refusal(Action action) {
    try {
        action();
    } catch (const InputError& error) {
        return error.what();
    }
    return "(not refused)";
}

} // namespace retap::test
