#include "audio/level_watch.hpp"

#include <cmath>
#include <cstddef>
#include <doctest/doctest.h>
#include <numbers>
#include <random>
#include <vector>

using namespace retap::audio;

namespace {

std::vector<float> gaussian(double rms, std::size_t count, unsigned seed) {
    std::mt19937 random(seed); // fixed seed
    std::normal_distribution<double> normal(0.0, rms);
    std::vector<float> samples(count);
    for (float& sample : samples) {
        sample = static_cast<float>(normal(random));
    }
    return samples;
}

void add_burst(std::vector<float>& samples, double rate, double from_s, double to_s, unsigned seed) {
    const auto from = static_cast<std::size_t>(from_s * rate);
    const auto burst = gaussian(0.1, static_cast<std::size_t>((to_s - from_s) * rate), seed);
    for (std::size_t i = 0; i < burst.size(); ++i) {
        samples[from + i] += burst[i];
    }
}

} // namespace

TEST_CASE("at each rate a burst is loud from its beginning to its end, and the noise around it is not") {
    for (const double rate : {44100.0, 48000.0, 96000.0}) {
        CAPTURE(rate);
        auto samples = gaussian(0.001, static_cast<std::size_t>(2.0 * rate), 1);
        add_burst(samples, rate, 1.0, 1.2, 2);
        LevelWatch watch({.sample_rate_hz = rate, .channels = 1});
        watch.feed(samples);
        CHECK(watch.now_s() == doctest::Approx(2.0).epsilon(0.006));
        CHECK(watch.burst_began_s() == doctest::Approx(1.0).epsilon(0.011));
        CHECK(watch.last_loud_s() == doctest::Approx(1.2).epsilon(0.011));
        // White noise of -60 dB loses less than 0.1 dB below 150 Hz; the 20 % quantile of the power of some 440 to 960
        // samples lies 0.2 to 0.3 dB below the mean.
        CHECK(watch.noise_dbfs() == doctest::Approx(-60.3).epsilon(0.005));
    }
}

TEST_CASE("bursts with a short pause are one, with a longer one two") {
    auto samples = gaussian(0.001, 96000, 3);
    add_burst(samples, 48000.0, 1.0, 1.1, 4);
    add_burst(samples, 48000.0, 1.14, 1.2, 5);
    add_burst(samples, 48000.0, 1.5, 1.6, 6);
    LevelWatch watch({.sample_rate_hz = 48000.0, .channels = 1});
    watch.feed(std::span(samples).first(48000 * 13 / 10));
    CHECK(watch.burst_began_s() == doctest::Approx(1.0).epsilon(0.011));
    watch.feed(std::span(samples).subspan(48000 * 13 / 10));
    CHECK(watch.burst_began_s() == doctest::Approx(1.5).epsilon(0.011));
}

TEST_CASE("50 Hz is taken down by what one pole at 150 Hz does to it") {
    // |H| = 1 / sqrt(1 + (150/50)^2) = -10.0 dB; a sine of amplitude 0.1 has a power of -23.0 dB.
    std::vector<float> samples(96000);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i] =
            0.1F * static_cast<float>(std::sin(2.0 * std::numbers::pi * 50.0 * static_cast<double>(i) / 48000.0));
    }
    LevelWatch watch({.sample_rate_hz = 48000.0, .channels = 1});
    watch.feed(samples);
    // A block is half a period of 50 Hz, over which the power averages out whole.
    CHECK(watch.noise_dbfs() == doctest::Approx(-33.0).epsilon(0.005));
    CHECK(watch.last_loud_s() == 0.0); // it was always there
}

TEST_CASE("silence is quiet, has a level, and block sizes do not matter") {
    LevelWatch silence({.sample_rate_hz = 48000.0, .channels = 2});
    silence.feed(std::vector<float>(96000));
    CHECK(silence.last_loud_s() == 0.0);
    CHECK(silence.noise_dbfs() == doctest::Approx(-300.0));
    CHECK(silence.peak_dbfs() == doctest::Approx(-300.0));

    auto samples = gaussian(0.001, 96000, 8);
    add_burst(samples, 48000.0, 1.0, 1.1, 9);
    LevelWatch whole({.sample_rate_hz = 48000.0, .channels = 2});
    LevelWatch pieces({.sample_rate_hz = 48000.0, .channels = 2});
    whole.feed(samples);
    for (std::size_t at = 0; at < samples.size(); at += 74) {
        pieces.feed(std::span<const float>(samples).subspan(at, std::min<std::size_t>(74, samples.size() - at)));
    }
    CHECK(whole.last_loud_s() == pieces.last_loud_s());
    CHECK(whole.noise_dbfs() == pieces.noise_dbfs());
    CHECK(whole.peak_dbfs() == pieces.peak_dbfs());
}

TEST_CASE("digital silence before the room is heard does not make the room loud") {
    std::vector<float> samples(48000);
    const auto room = gaussian(0.003, 96000, 10);
    samples.insert(samples.end(), room.begin(), room.end());
    LevelWatch watch({.sample_rate_hz = 48000.0, .channels = 1});
    watch.feed(samples);
    CHECK(watch.last_loud_s() == 0.0);
    CHECK(watch.noise_dbfs() == doctest::Approx(-50.7).epsilon(0.005));
}

TEST_CASE("the peak between two times is the largest sample there") {
    std::vector<float> samples(48000);
    samples[24000] = -0.5F;
    LevelWatch watch({.sample_rate_hz = 48000.0, .channels = 1});
    watch.feed(samples);
    CHECK(watch.peak_dbfs(0.49, 0.53) == doctest::Approx(-6.0206).epsilon(1e-4));
    CHECK(watch.peak_dbfs(0.52, 0.60) == doctest::Approx(-300.0));
    CHECK(watch.peak_dbfs(0.0, 0.49) == doctest::Approx(-300.0));
}
