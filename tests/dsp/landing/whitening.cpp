#include "dsp/landing/whitening.hpp"
#include "analysis_rate.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <random>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

using Complex = std::complex<double>;

constexpr std::size_t white_size = 1080;
constexpr std::size_t white_onset = 960;

/// A decaying tone from the white_onset on, in white noise.
std::vector<float> ringing_tap(double noise_rms, double hz, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    std::vector<float> sound(2400);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = (static_cast<double>(n) - static_cast<double>(white_onset)) / 48000.0;
        const double ring = t < 0.0 ? 0.0 : std::exp(-t / 0.002) * std::sin(2.0 * std::numbers::pi * hz * t);
        sound[n] = static_cast<float>(0.5 * ring + noise_rms * normal(random));
    }
    return sound;
}

std::vector<Complex> plain_spectrum(const std::vector<double>& part) {
    std::vector<Complex> spectrum(white_size / 2 + 1);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        for (std::size_t n = 0; n < part.size(); ++n) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(k * n % white_size) / white_size;
            spectrum[k] += part[n] * std::polar(1.0, -turn);
        }
    }
    return spectrum;
}

/// 2 ms before the white_onset to 20 ms after it, faded in over 0.5 ms and out over 5.
double fades(std::size_t i) {
    return std::min({1.0, static_cast<double>(i) / 24.0, static_cast<double>(1055 - i) / 240.0});
}

std::vector<Complex> plain_tap(const std::vector<float>& sound) {
    std::vector<double> part(1056);
    for (std::size_t i = 0; i < part.size(); ++i) {
        part[i] = fades(i) * static_cast<double>(sound[white_onset - 96 + i]);
    }
    return plain_spectrum(part);
}

/// The power of up to 2 ms before the white_onset, under a squared sine, as much of it as the ringing_tap's fades let
/// through.
std::vector<double> plain_noise(const std::vector<float>& sound) {
    std::vector<double> part(white_onset - 96);
    double squares = 0.0;
    double tap_squares = 0.0;
    for (std::size_t i = 0; i < part.size(); ++i) {
        const double w = std::pow(std::sin(std::numbers::pi * (static_cast<double>(i) + 0.5) / 864.0), 2.0);
        part[i] = w * static_cast<double>(sound[i]);
        squares += w * w;
    }
    for (std::size_t i = 0; i < 1056; ++i) {
        tap_squares += fades(i) * fades(i);
    }
    std::vector<double> power;
    for (const Complex& bin : plain_spectrum(part)) {
        power.push_back(std::norm(bin) * tap_squares / squares);
    }
    return power;
}

double total(const std::vector<Complex>& spectrum) {
    double sum = 0.0;
    for (const Complex& bin : spectrum) {
        sum += std::norm(bin);
    }
    return sum;
}

double magnitude(const WhiteSpectrum& spectrum, std::size_t bin) {
    return static_cast<double>(std::abs(spectrum.at(bin)));
}

} // namespace

TEST_CASE("a whitened ringing_tap is its plain spectrum over the root of its power and five times the noisier take's") {
    const std::vector<std::vector<float>> sounds{ringing_tap(0.001, 1500.0, 71), ringing_tap(0.001, 1700.0, 72),
                                                 ringing_tap(0.004, 1600.0, 73)};
    const std::vector<std::size_t> take{9, 9, 4};
    std::vector<TapSound> taps;
    std::ranges::transform(sounds, std::back_inserter(taps), [](const std::vector<float>& s) {
        return TapSound{s, Position(960.0)};
    });
    const std::vector<WhiteSpectrum> found = whitened_taps(taps, take, analysis_rate, white_size, {});

    std::vector<std::vector<Complex>> plain;
    std::vector<std::vector<double>> noise;
    for (const std::vector<float>& sound : sounds) {
        plain.push_back(plain_tap(sound));
        noise.push_back(plain_noise(sound));
    }
    const double level_quiet = 0.5 * (total(plain[0]) + total(plain[1]));
    const double level_noisy = total(plain[2]);
    std::vector<double> most(
        plain[0].size()); // of the noise, in parts of the take's level, over nine bins to each side
    for (std::size_t k = 0; k < most.size(); ++k) {
        double quiet = 0.0;
        double noisy = 0.0;
        double bins = 0.0;
        for (std::size_t i = k > 8 ? k - 8 : 0; i <= std::min(k + 8, most.size() - 1); ++i) {
            quiet += 0.5 * (noise[0][i] + noise[1][i]);
            noisy += noise[2][i];
            bins += 1.0;
        }
        most[k] = std::max(quiet / level_quiet, noisy / level_noisy) / bins;
    }
    for (std::size_t t = 0; t < 3; ++t) {
        CAPTURE(t);
        REQUIRE(found[t].size() == white_size / 2 + 1);
        double strongest = 0.0;
        for (const Complex& bin : plain[t]) {
            strongest = std::max(strongest, std::norm(bin));
        }
        double error = 0.0;
        double signal = 0.0;
        for (std::size_t k = 0; k < most.size(); ++k) {
            const double hz = 48000.0 * static_cast<double>(k) / white_size;
            const double fade = std::clamp((hz - 14000.0) / 4000.0, 0.0, 1.0);
            const double band = 0.5 + 0.5 * std::cos(std::numbers::pi * fade);
            const double floor = std::max(most[k] * (t < 2 ? level_quiet : level_noisy), 1e-6 * strongest);
            const Complex expected = band * plain[t][k] / std::sqrt(std::norm(plain[t][k]) + 5.0 * floor);
            error += std::norm(expected - Complex(found[t][k]));
            signal += std::norm(expected);
        }
        CHECK(10.0 * std::log10(signal / error) > 90.0); // single precision: some 120 dB at the strongest bin
    }
}

TEST_CASE("a frequency counts where the ringing_tap stands out of the noise, less in it, and not at all above 18 kHz") {
    const std::vector<float> sound = ringing_tap(0.002, 1500.0, 74);
    const std::vector<TapSound> taps{{sound, Position(960.0)}};
    const std::vector<WhiteSpectrum> found =
        whitened_taps(taps, std::vector<std::size_t>{0}, analysis_rate, white_size, {});
    const auto bin = [](double hz) { return static_cast<std::size_t>(std::lround(hz * white_size / 48000.0)); };
    CHECK(magnitude(found[0], bin(1500.0)) > 0.99);
    CHECK(magnitude(found[0], bin(12000.0)) < 0.8);
    CHECK(magnitude(found[0], bin(18500.0)) < 1e-6);
}

TEST_CASE(
    "what lies 60 dB under the strongest frequency is leakage and hardly counts, however silent the background is") {
    std::vector<float> sound(2400, 0.0F);
    for (std::size_t n = 0; n < 800; ++n) { // a burst of 3 kHz that swells and dies as a squared sine
        const auto t = static_cast<double>(n);
        sound[white_onset + n] = static_cast<float>(0.5 * std::pow(std::sin(std::numbers::pi * t / 800.0), 2.0) *
                                                    std::sin(2.0 * std::numbers::pi * 3000.0 * t / 48000.0));
    }
    const std::vector<Complex> plain = plain_tap(sound);
    const std::vector<TapSound> taps{{sound, Position(960.0)}};
    const std::vector<WhiteSpectrum> found =
        whitened_taps(taps, std::vector<std::size_t>{0}, analysis_rate, white_size, {});
    const auto bin = [](double hz) { return static_cast<std::size_t>(std::lround(hz * white_size / 48000.0)); };
    REQUIRE(std::abs(plain[bin(9000.0)]) < 1e-4 * std::abs(plain[bin(3000.0)]));
    CHECK(magnitude(found[0], bin(3000.0)) > 0.99);
    CHECK(magnitude(found[0], bin(9000.0)) < 0.05);
}

TEST_CASE("less than 2 ms of quiet before a ringing_tap says nothing of the noise") {
    const std::vector<float> whole = ringing_tap(0.0, 1500.0, 78);
    for (const std::size_t before : {90U, 200U}) { // samples ahead of what is cut out, 2 ms before the white_onset
        std::vector<float> sound(whole.begin() + static_cast<std::ptrdiff_t>(white_onset - 96 - before), whole.end());
        const std::vector<TapSound> taps{{sound, Position(static_cast<double>(96 + before))}};
        const std::vector<WhiteSpectrum> in_silence =
            whitened_taps(taps, std::vector<std::size_t>{0}, analysis_rate, white_size, {});
        const std::vector<float> noise = ringing_tap(0.1, 1500.0, 79);
        std::copy_n(noise.begin(), before, sound.begin());
        const std::vector<WhiteSpectrum> in_noise =
            whitened_taps(taps, std::vector<std::size_t>{0}, analysis_rate, white_size, {});
        CAPTURE(before);
        CHECK((in_noise[0] == in_silence[0]) == (before == 90));
    }
}

TEST_CASE("the gain of a take has no effect on its whitened taps") {
    const std::vector<float> a = ringing_tap(0.001, 1500.0, 75);
    std::vector<float> b = ringing_tap(0.002, 1900.0, 76);
    const std::vector<std::size_t> take{0, 1};
    const auto whiten = [&] {
        return whitened_taps(std::vector<TapSound>{{a, Position(960.0)}, {b, Position(960.0)}}, take, analysis_rate,
                             white_size, {});
    };
    const std::vector<WhiteSpectrum> before = whiten();
    std::ranges::for_each(b, [](float& x) { x *= 0.03125F; }); // exact in binary
    const std::vector<WhiteSpectrum> after = whiten();
    for (std::size_t t = 0; t < 2; ++t) {
        for (std::size_t k = 0; k < before[t].size(); ++k) {
            CHECK(std::abs(after[t][k] - before[t][k]) < 1e-5F);
        }
    }
}

TEST_CASE("a ringing_tap with too little quiet before it, one at the very end, silence and no taps harm nobody") {
    const std::vector<float> sound = ringing_tap(0.001, 1500.0, 77);
    const std::vector<float> silence(2400, 0.0F);
    const std::vector<TapSound> taps{
        {std::span(sound).subspan(white_onset - 100), Position(100.0)}, // 4 samples of quiet, less 2 ms
        {std::span(sound).first(white_onset + 10), Position(960.0)},
        {silence, Position(960.0)}};
    const std::vector<WhiteSpectrum> found =
        whitened_taps(taps, std::vector<std::size_t>{0, 1, 2}, analysis_rate, white_size, {});
    REQUIRE(found.size() == 3);
    for (const WhiteSpectrum& spectrum : found) {
        CHECK(std::ranges::all_of(spectrum, [](const auto& bin) { return std::abs(bin) <= 1.0001F; }));
    }
    CHECK(std::ranges::all_of(found[2], [](const auto& bin) { return std::abs(bin) == 0.0F; }));
    CHECK(whitened_taps({}, {}, analysis_rate, white_size, {}).empty());
}
