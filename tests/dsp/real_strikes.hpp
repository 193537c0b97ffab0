// Recorded strikes from Debian's sample packages, laid down at known times. Nothing of them is copied into the project.
#pragma once

#include "audio/resample.hpp"
#include "audio/sound_file.hpp"
#include "dsp/base/tap_sound.hpp"
#include "dsp/filters/fractional_delay.hpp"

#include "impact_signals.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

namespace retap::test {

inline constexpr double strike_rate_hz = 48000.0;

/// One channel (0 or 1) of a recording below /usr/share at 48 kHz, peak 1, from a quarter of a millisecond before it
/// first exceeds 1 % of its peak, 90 ms long; empty when the package is not installed.
inline std::vector<float> recorded_strike(const std::string& path, std::size_t channel) {
    const std::filesystem::path file = std::filesystem::path("/usr/share") / path;
    if (!std::filesystem::exists(file)) {
        return {};
    }
    const audio::Sound sound = audio::read_sound(file);
    audio::Resampler resampler(sound.channels, sound.sample_rate_hz, strike_rate_hz);
    std::vector<float> converted;
    for (const auto part : {resampler.process(sound.interleaved), resampler.finish()}) {
        converted.insert(converted.end(), part.begin(), part.end());
    }
    const auto channels = static_cast<std::size_t>(sound.channels);
    std::vector<float> one;
    for (std::size_t i = std::min(channel, channels - 1); i < converted.size(); i += channels) {
        one.push_back(converted[i]);
    }
    float peak = 0.0F;
    for (const float v : one) {
        peak = std::max(peak, std::abs(v));
    }
    const auto loud = std::ranges::find_if(one, [peak](float v) { return std::abs(v) > 0.01F * peak; });
    const auto begin = one.begin() + std::max<std::ptrdiff_t>(loud - one.begin() - 12, 0);
    std::vector<float> strike(begin, begin + std::min<std::ptrdiff_t>(4320, one.end() - begin));
    std::ranges::transform(strike, strike.begin(), [peak](float v) { return v / peak; });
    return strike;
}

/// Taps made of one strike, or two.
struct StrikeTake {
    std::vector<std::vector<float>> sounds;
    std::vector<double> gaps_ms;

    [[nodiscard]] std::vector<dsp::TapSound> taps() const {
        std::vector<dsp::TapSound> list;
        list.reserve(sounds.size());
        for (const auto& sound : sounds) {
            list.push_back({sound, dsp::Position(960.0)});
        }
        return list;
    }
};

struct StrikePlan {
    double gap_ms = 0.0;     ///< of the second strike; 0 for one strike
    double ratio = 1.0;      ///< of the second to the first, in amplitude
    double gap_jitter = 0.0; ///< relative, from tap to tap
    double peak_over_noise_db = 40.0;
    std::size_t count = 8;
};

/// `count` taps, each with a strike taken in turn from `strikes` and again `gap` later, at another place between two
/// samples and another level each time, in white noise.
inline StrikeTake lay_down(const std::vector<std::vector<float>>& strikes, const StrikePlan& plan, unsigned seed) {
    std::mt19937 engine(seed);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    std::normal_distribution<double> normal(0.0, 1.0);
    StrikeTake take;
    for (std::size_t t = 0; t < plan.count; ++t) {
        const std::vector<float>& strike = strikes[t % strikes.size()];
        const double gap_ms = plan.gap_ms * (1.0 + plan.gap_jitter * normal(engine));
        const double level = 0.5 * std::pow(10.0, 0.1 * normal(engine)); // 2 dB
        std::vector<float> sound(5760, 0.0F);
        std::ranges::transform(strike, sound.begin() + 948, [level](float v) { return static_cast<float>(level) * v; });
        sound = dsp::delayed(sound, dsp::Length(part(engine)));
        if (plan.gap_ms > 0.0) {
            std::vector<float> second =
                dsp::delayed(sound, dsp::Length::from_ms(gap_ms, dsp::SampleRate(strike_rate_hz)));
            std::ranges::transform(second, second.begin(),
                                   [&plan](float v) { return static_cast<float>(plan.ratio) * v; });
            add(sound, second);
        }
        const double peak = 0.5 * std::max(1.0, plan.ratio);
        add(sound, white_noise(sound.size(), peak * std::pow(10.0, -plan.peak_over_noise_db / 20.0),
                               seed * 1000U + static_cast<unsigned>(t)));
        take.sounds.push_back(sound);
        take.gaps_ms.push_back(plan.gap_ms > 0.0 ? gap_ms : 0.0);
    }
    return take;
}

} // namespace retap::test
