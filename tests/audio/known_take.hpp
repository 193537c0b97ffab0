// Takes with known taps, as a device would deliver them.
#pragma once

#include "audio/sound_file.hpp"
#include "audio/sound_sink.hpp"
#include "bite/make_take.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <random>
#include <span>
#include <vector>

namespace retap::test {

struct KnownTake {
    audio::Sound sound;
    std::vector<double> onsets_s;
};

struct TakeWish {
    double rate_hz = 48000.0;
    int channels = 1;
    int taps = 6;
    /// One who taps evenly: these tests are about recording. Uneven tapping is tested in uneven_taps.cpp.
    std::uint64_t patient = 5;
    double lead_s = 1.0;
    double tail_s = 2.0;
};

/// Rounded to 24 bits, so that what comes back from a file can be compared for equality.
inline KnownTake known_take(const TakeWish& wish) {
    const bite::Take take =
        bite::make_take({.patient = wish.patient,
                         .taps = wish.taps,
                         .pickups = wish.channels == 2 ? bite::Pickups::left_and_right : bite::Pickups::forehead,
                         .sample_rate_hz = wish.rate_hz,
                         .lead_s = wish.lead_s,
                         .tail_s = wish.tail_s});
    KnownTake made{.sound = {.sample_rate_hz = wish.rate_hz, .channels = wish.channels, .interleaved = {}},
                   .onsets_s = {}};
    for (std::size_t i = 0; i < take.channels.front().size(); ++i) {
        for (const auto& channel : take.channels) {
            const double limited = std::clamp(static_cast<double>(channel[i]), -1.0, 1.0 - 0x1p-23);
            made.sound.interleaved.push_back(static_cast<float>(std::round(limited * 0x1p23) * 0x1p-23));
        }
    }
    for (const auto& tap : take.taps) {
        made.onsets_s.push_back(*std::min_element(tap.arrival_s.begin(), tap.arrival_s.end()));
    }
    return made;
}

/// Feeds blocks of irregular sizes, as a device does.
inline void feed(audio::SoundSink& sink, const audio::Sound& sound, unsigned seed = 4) {
    std::mt19937 random(seed);
    std::span<const float> rest(sound.interleaved);
    while (!rest.empty()) {
        const std::size_t want = (1 + random() % 500) * static_cast<std::size_t>(sound.channels);
        const auto part = rest.first(std::min(want, rest.size()));
        rest = rest.subspan(part.size());
        sink.block(part);
    }
}

/// Swelling noise, which is no tap: stands for talk. From one time to the other, onto every channel.
inline void add_talk(audio::Sound& sound, double from_s, double to_s, float level, unsigned seed = 6) {
    std::mt19937 random(seed);
    const auto channels = static_cast<std::size_t>(sound.channels);
    const auto from = static_cast<std::size_t>(from_s * sound.sample_rate_hz);
    const auto to = static_cast<std::size_t>(to_s * sound.sample_rate_hz);
    for (std::size_t frame = from; frame < std::min(to, sound.interleaved.size() / channels); ++frame) {
        const double s = static_cast<double>(frame - from) / sound.sample_rate_hz;
        const double swell = 0.6 - 0.4 * std::cos(2.0 * 3.141592653589793 * 3.0 * s);
        const auto noise = static_cast<float>(swell * (static_cast<double>(random()) / 2147483648.0 - 1.0));
        for (std::size_t channel = 0; channel < channels; ++channel) {
            sound.interleaved[frame * channels + channel] += level * noise;
        }
    }
}

} // namespace retap::test
