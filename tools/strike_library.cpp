#include "strike_library.hpp"

#include "audio/resample.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <string>

namespace retap::tools {

namespace {

struct Source {
    const char* package;
    const char* path;
};

constexpr std::array<Source, 17> sources{{
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ForzeeStereo/Stick-0.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ForzeeStereo/Stick-1.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ForzeeStereo/Stick-2.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ForzeeStereo/Stick-3.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ForzeeStereo/SnareOffRim-2.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Millo_MultiLayered2/rim_01.flac"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Millo_MultiLayered2/rim_03.flac"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Millo_MultiLayered2/rim_04.flac"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Millo-Drums_v.1/stick_Woody.flac"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/ColomboAcousticDrumkit/stick-rim-9.flac"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Gimme A Hand 1.0/Clave-Hard.wav"},
    {"hydrogen-drumkits", "hydrogen/data/drumkits/Gimme A Hand 1.0/WoodBlock-Hard.wav"},
    {"hydrogen-data", "hydrogen/data/drumkits/GMRockKit/SideStick-Soft.wav"},
    {"sonic-pi-samples", "sonic-pi/samples/elec_tick.flac"},
    {"sonic-pi-samples", "sonic-pi/samples/tabla_te2.flac"},
    {"sonic-pi-samples", "sonic-pi/samples/tabla_na_s.flac"},
    {"sonic-pi-samples", "sonic-pi/samples/tabla_ke1.flac"},
}};

constexpr double rate_hz = 48000.0;
constexpr double longest_s = 0.060;
constexpr double fade_s = 0.020;
constexpr double damping_s = 0.012; // a hand laid on the ringing drum, so that a bite stays as short as bites are
constexpr double onset_level = 0.01;
constexpr std::size_t fade_in = 3; // samples; some files begin in the middle of the attack

std::vector<double> mono_at_48k(const std::filesystem::path& path) {
    const audio::Sound sound = audio::read_sound(path);
    audio::Resampler resampler(sound.channels, sound.sample_rate_hz, rate_hz);
    std::vector<float> converted;
    const auto append = [&](std::span<const float> part) {
        converted.insert(converted.end(), part.begin(), part.end());
    };
    append(resampler.process(sound.interleaved));
    append(resampler.finish());
    const auto channels = static_cast<std::size_t>(sound.channels);
    std::vector<double> mono(converted.size() / channels, 0.0);
    for (std::size_t i = 0; i < mono.size(); ++i) {
        for (std::size_t c = 0; c < channels; ++c) {
            mono[i] += static_cast<double>(converted[i * channels + c]);
        }
    }
    return mono;
}

std::vector<double> trimmed(const std::vector<double>& sound) {
    double peak = 0.0;
    for (const double s : sound) {
        peak = std::max(peak, std::abs(s));
    }
    const auto loud =
        std::find_if(sound.begin(), sound.end(), [&](double s) { return std::abs(s) > onset_level * peak; });
    const auto onset = loud == sound.begin() ? loud : loud - 1;
    const auto room = static_cast<std::size_t>(sound.end() - onset);
    std::vector<double> out(
        onset, onset + static_cast<std::ptrdiff_t>(std::min(room, static_cast<std::size_t>(longest_s * rate_hz))));
    const auto fade = std::min(out.size(), static_cast<std::size_t>(fade_s * rate_hz));
    for (std::size_t i = 0; i < out.size(); ++i) {
        const std::size_t left = out.size() - i;
        const double down =
            left >= fade
                ? 1.0
                : 0.5 - 0.5 * std::cos(std::numbers::pi * static_cast<double>(left) / static_cast<double>(fade));
        const double up = i >= fade_in ? 1.0 : static_cast<double>(i + 1) / (fade_in + 1);
        const double hand = std::exp(-static_cast<double>(i) / (damping_s * rate_hz));
        out[i] *= hand * down * up / peak;
    }
    return out;
}

} // namespace

Strike load_strike(const std::filesystem::path& share, const std::string& package, const std::string& path) {
    const auto file = share / path;
    if (!std::filesystem::exists(file)) {
        throw InputError("Loading recorded strikes: " + file.string() + " is missing. Install the package " + package +
                         " (apt-get install " + package + ").");
    }
    return {.name = path,
            .package = package,
            .sound = {.rate_hz = rate_hz, .start_s = 0.0, .samples = trimmed(mono_at_48k(file))}};
}

std::vector<Strike> load_strikes(const std::filesystem::path& share) {
    std::vector<Strike> strikes;
    for (const Source& source : sources) {
        strikes.push_back(load_strike(share, source.package, source.path));
    }
    return strikes;
}

std::vector<bite::Stretch> sounds_of(const std::vector<Strike>& strikes) {
    std::vector<bite::Stretch> sounds;
    sounds.reserve(strikes.size());
    for (const Strike& strike : strikes) {
        sounds.push_back(strike.sound);
    }
    return sounds;
}

} // namespace retap::tools
