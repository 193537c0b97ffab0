// Takes for the tests of the program: damped strikes at known times over faint noise, by arithmetic.
#pragma once

#include "audio/sound_writer.hpp"

#include <cmath>
#include <cstddef>
#include <filesystem>
#include <numbers>
#include <random>

namespace retap::test {

struct MadeTake {
    double rate_hz = 48000.0;
    int channels = 1;
    int taps = 10;
    double first_s = 0.6;
    double every_s = 0.4;
    double second_contact_ms = 0.0; ///< a second strike this long after the first; 0: none
    unsigned seed = 7;
};

/// A strike: two modes set going over 0.15 ms, as by a contact that takes its time; an abrupt start would hold as much
/// just below half the sample rate as anywhere, and every filter on the way would ring ahead of it.
inline double strike(double t) {
    if (t < 0.0) {
        return 0.0;
    }
    constexpr double tau = 2.0 * std::numbers::pi;
    constexpr double contact_s = 0.15e-3;
    const double set_going = t < contact_s ? std::pow(std::sin(0.25 * tau * t / contact_s), 2) : 1.0;
    return set_going * (std::exp(-700.0 * t) * std::sin(tau * 1900.0 * t) +
                        0.7 * std::exp(-1500.0 * t) * std::sin(tau * 5200.0 * t));
}

inline double tap_time_s(const MadeTake& take, int n) {
    return take.first_s + take.every_s * n;
}

inline audio::Sound made_take(const MadeTake& take) {
    audio::Sound sound;
    sound.sample_rate_hz = take.rate_hz;
    sound.channels = take.channels;
    const auto frames = static_cast<std::size_t>((tap_time_s(take, take.taps) + 0.4) * take.rate_hz);
    std::vector<double> mono(frames);
    std::mt19937 engine(take.seed);
    const auto uniform = [&engine] { return static_cast<double>(engine()) / 4294967296.0 - 0.5; };
    for (double& x : mono) {
        x = 4e-4 * uniform();
    }
    constexpr double heard_for_s = 0.03;
    for (int n = 0; n < take.taps; ++n) {
        const double onset = tap_time_s(take, n);
        const double gain = 0.35 * (1.0 + 0.2 * uniform());
        const auto begin = static_cast<std::size_t>(onset * take.rate_hz);
        for (std::size_t i = begin; i < begin + static_cast<std::size_t>(heard_for_s * take.rate_hz); ++i) {
            const double t = static_cast<double>(i) / take.rate_hz - onset;
            mono[i] += gain * strike(t);
            if (take.second_contact_ms > 0.0) {
                mono[i] += gain * strike(t - 1e-3 * take.second_contact_ms);
            }
        }
    }
    for (const double x : mono) {
        sound.interleaved.insert(sound.interleaved.end(), static_cast<std::size_t>(take.channels),
                                 static_cast<float>(x));
    }
    return sound;
}

inline void write_take(const std::filesystem::path& file, const MadeTake& take = {}) {
    audio::write_sound(file, made_take(take), audio::SoundFormat::wav_24);
}

} // namespace retap::test
