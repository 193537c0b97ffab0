#include "dsp/landing/gcc_phat.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <random>
#include <vector>

using namespace retap::dsp;

namespace {

constexpr std::size_t size = 240;
constexpr double peak_blur = 2.0;

std::vector<float> noise(unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<float> normal;
    std::vector<float> sound(size);
    std::ranges::generate(sound, [&] { return normal(random); });
    return sound;
}

WhiteSpectrum spectrum_of(const std::vector<float>& sound) {
    return RealFft(size).forward(sound);
}

/// Of all frequencies alike, later by `samples`.
WhiteSpectrum delayed_click(double samples) {
    WhiteSpectrum spectrum(size / 2 + 1);
    for (std::size_t k = 0; k < spectrum.size(); ++k) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(k) * samples / static_cast<double>(size);
        spectrum[k] = std::polar(1.0F, static_cast<float>(-turn));
    }
    return spectrum;
}

} // namespace

TEST_CASE("a correlation is the plain sum over products, and its peak that of the plainly smoothed sum") {
    const std::vector<float> a = noise(61);
    const std::vector<float> b = noise(62);
    GccPhat correlation(size, peak_blur);
    correlation.correlate(spectrum_of(a), spectrum_of(b));
    const auto plain = [&](std::ptrdiff_t lag) {
        double sum = 0.0;
        for (std::size_t n = 0; n < size; ++n) {
            const auto later = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(n + size) + lag) % size;
            sum += static_cast<double>(a[later]) * static_cast<double>(b[n]);
        }
        return sum;
    };
    const auto smoothed = [&](std::ptrdiff_t lag) {
        double sum = 0.0;
        double weights = 0.0;
        for (int i = -6; i <= 6; ++i) {
            const double weight = std::exp(-0.5 * i * i / (peak_blur * peak_blur));
            sum += weight * plain(lag + i);
            weights += weight;
        }
        return std::abs(sum / weights);
    };
    std::ptrdiff_t peak = -60;
    for (std::ptrdiff_t lag = -60; lag < 60; ++lag) {
        CHECK(static_cast<double>(correlation.value(lag)) == doctest::Approx(plain(lag)).epsilon(1e-4).scale(16.0));
        peak = smoothed(lag) > smoothed(peak) ? lag : peak;
    }
    CHECK(correlation.strongest(-60, 60) == peak);
}

TEST_CASE("a sound that is later by part of a sample is found within a few hundredths of one") {
    GccPhat correlation(size, 3.0);
    for (const double later : {0.0, 0.25, 0.5, 7.4, -11.7}) {
        CAPTURE(later);
        correlation.correlate(delayed_click(20.0 + later), delayed_click(20.0));
        const std::ptrdiff_t peak = correlation.strongest(-40, 40);
        CHECK(std::abs(static_cast<double>(peak) - later) <= 0.51);
        CHECK(std::abs(correlation.between_samples(peak) - later) < 0.03);
    }
}

TEST_CASE("two copies of one sound agree whichever way up, two sounds do not, and silence agrees with all") {
    const WhiteSpectrum a = delayed_click(12.0);
    WhiteSpectrum turned = delayed_click(15.0);
    std::ranges::for_each(turned, [](std::complex<float>& bin) { bin *= -0.5F; });
    GccPhat correlation(size, peak_blur);
    correlation.correlate(turned, a);
    CHECK(correlation.strongest(-40, 40) == 3);
    CHECK(correlation.agrees(3, 0.98));
    CHECK(correlation.agrees(5, 0.98)); // two samples beside it, and no further
    CHECK_FALSE(correlation.agrees(6, 0.98));
    correlation.correlate(spectrum_of(noise(63)), spectrum_of(noise(64)));
    CHECK_FALSE(correlation.agrees(correlation.strongest(-40, 40), 0.98));
    correlation.correlate(WhiteSpectrum(size / 2 + 1), a);
    CHECK(correlation.agrees(0, 0.98));
}
