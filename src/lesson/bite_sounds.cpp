#include "lesson/bite_sounds.hpp"

#include "audio/inspect_file.hpp"
#include "audio/resample.hpp"
#include "dsp/filters/time_stretch.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::lesson {
namespace {

std::vector<float> channel_of(const audio::Sound& sound, std::size_t channel) {
    std::vector<float> samples;
    for (std::size_t i = channel; i < sound.interleaved.size(); i += static_cast<std::size_t>(sound.channels)) {
        samples.push_back(sound.interleaved[i]);
    }
    return samples;
}

std::vector<float> interleave(const std::vector<std::vector<float>>& channels) {
    std::vector<float> interleaved;
    for (std::size_t i = 0; i < channels.front().size(); ++i) {
        for (const auto& channel : channels) {
            interleaved.push_back(channel[i]);
        }
    }
    return interleaved;
}

double rms(const audio::Sound& sound) {
    double sum = 0.0;
    for (const float x : sound.interleaved) {
        sum += static_cast<double>(x) * static_cast<double>(x);
    }
    return std::sqrt(sum / static_cast<double>(std::max<std::size_t>(sound.interleaved.size(), 1)));
}

double peak(const audio::Sound& sound) {
    double highest = 0.0;
    for (const float x : sound.interleaved) {
        highest = std::max(highest, std::abs(static_cast<double>(x)));
    }
    return highest;
}

} // namespace

audio::Sound sound_of(const bite::Take& take) {
    return {.sample_rate_hz = take.sample_rate_hz,
            .channels = static_cast<int>(take.channels.size()),
            .interleaved = interleave(take.channels)};
}

LessonTake make_and_hear(const bite::LessonBite& bite, const std::string& name) {
    const bite::Take take = bite::make_lesson_take(bite);
    LessonTake made{.truth = bite::summarise(take.taps), .sound = sound_of(take), .heard = {}};
    made.heard = audio::inspect_sound(made.sound, name);
    return made;
}

audio::Sound slowed(const audio::Sound& sound, const SlowMotion& slow) {
    audio::Sound out = sound;
    if (slow.factor <= 1.0) {
        return out;
    }
    if (slow.keep_pitch) {
        std::vector<std::vector<float>> channels;
        channels.reserve(static_cast<std::size_t>(sound.channels));
        for (int c = 0; c < sound.channels; ++c) {
            channels.push_back(dsp::stretch(channel_of(sound, static_cast<std::size_t>(c)), slow.factor));
        }
        out.interleaved = interleave(channels);
        return out;
    }
    audio::Resampler longer(sound.channels, sound.sample_rate_hz, sound.sample_rate_hz * slow.factor);
    const auto most = longer.process(sound.interleaved); // valid until the next call
    out.interleaved.assign(most.begin(), most.end());
    const auto rest = longer.finish();
    out.interleaved.insert(out.interleaved.end(), rest.begin(), rest.end());
    return out;
}

void match_levels(std::vector<audio::Sound>& sounds) {
    constexpr double wanted_rms = 0.03; // -30 dBFS over pauses and all: taps peak near -10 dBFS
    constexpr double highest_peak = 0.95;
    double gain_for_all = 1.0;
    for (audio::Sound& sound : sounds) {
        const double level = rms(sound);
        assert(level > 0.0);
        for (float& x : sound.interleaved) {
            x = static_cast<float>(static_cast<double>(x) * wanted_rms / level);
        }
        gain_for_all = std::min(gain_for_all, highest_peak / peak(sound));
    }
    for (audio::Sound& sound : sounds) {
        for (float& x : sound.interleaved) {
            x = static_cast<float>(static_cast<double>(x) * gain_for_all);
        }
    }
}

} // namespace retap::lesson
