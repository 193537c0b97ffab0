#include "audio/resample.hpp"

#include <cmath>
#include <cstddef>
#include <doctest/doctest.h>
#include <numbers>

using namespace retap::audio;

namespace {

/// A tone burst under a Gaussian, known at every instant: 2 kHz, width 1 ms, centred at 50.3 ms. At 8 kHz and above it
/// has nothing within 140 dB of its peak above 3.3 kHz, so every rate allowed holds all of it.
double burst(double t) {
    const double from_centre = t - 0.0503;
    return 0.8 * std::exp(-0.5 * std::pow(from_centre / 0.001, 2)) *
           std::cos(2.0 * std::numbers::pi * 2000.0 * from_centre);
}

std::vector<float> sampled(double rate, double seconds, int channels) {
    std::vector<float> samples;
    for (std::size_t n = 0; static_cast<double>(n) < seconds * rate; ++n) {
        for (int channel = 0; channel < channels; ++channel) {
            samples.push_back(static_cast<float>(burst(static_cast<double>(n) / rate) * (channel == 0 ? 1.0 : -0.5)));
        }
    }
    return samples;
}

std::vector<float> converted(const std::vector<float>& in, int channels, double from, double to, std::size_t block) {
    Resampler resampler(channels, from, to);
    std::vector<float> out;
    const std::span<const float> all(in);
    for (std::size_t at = 0; at < all.size(); at += block * static_cast<std::size_t>(channels)) {
        const auto part =
            resampler.process(all.subspan(at, std::min(block * static_cast<std::size_t>(channels), all.size() - at)));
        out.insert(out.end(), part.begin(), part.end());
    }
    const auto rest = resampler.finish();
    out.insert(out.end(), rest.begin(), rest.end());
    return out;
}

double signal_to_error_db(const std::vector<float>& got, const std::vector<float>& truth) {
    double signal = 0.0;
    double error = 0.0;
    for (std::size_t i = 0; i < std::min(got.size(), truth.size()); ++i) {
        const auto t = static_cast<double>(truth[i]);
        signal += t * t;
        error += std::pow(static_cast<double>(got[i]) - t, 2);
    }
    return 10.0 * std::log10(signal / error);
}

} // namespace

TEST_CASE("the result is the same sound at the other rate, from the same instant: 100 dB over the error") {
    // A shift of a hundredth of a sample at 48 kHz would by itself leave 20 log10(1 / (2 pi 2000 * 0.01 / 48000)) = 52
    // dB.
    for (const double from : {8000.0, 22050.0, 44100.0, 88200.0, 96000.0, 192000.0}) {
        for (const int channels : {1, 2}) {
            const auto got = converted(sampled(from, 0.1, channels), channels, from, 48000.0, 1024);
            const auto truth = sampled(48000.0, 0.1, channels);
            CAPTURE(from);
            CAPTURE(channels);
            CHECK(signal_to_error_db(got, truth) > 100.0);
            const auto frames = static_cast<double>(got.size()) / channels;
            CHECK(std::abs(frames - 4800.0) <= 1.0);
        }
    }
}

TEST_CASE("the result does not depend on the sizes of the blocks") {
    const auto in = sampled(44100.0, 0.1, 2);
    const auto whole = converted(in, 2, 44100.0, 48000.0, in.size());
    for (const std::size_t block : {1U, 13U, 512U, 4096U}) {
        CHECK(converted(in, 2, 44100.0, 48000.0, block) == whole);
    }
}

TEST_CASE("equal rates pass every sample unchanged") {
    const auto in = sampled(48000.0, 0.1, 1);
    CHECK(converted(in, 1, 48000.0, 48000.0, 100) == in);
}

TEST_CASE("what the lower rate cannot hold is taken out, not folded down") {
    // 30 kHz sampled at 96 kHz would fold to 18 kHz at 48 kHz.
    std::vector<float> high;
    high.reserve(9600);
    for (int n = 0; n < 9600; ++n) {
        high.push_back(static_cast<float>(0.5 * std::sin(2.0 * std::numbers::pi * 30000.0 * n / 96000.0)));
    }
    const auto got = converted(high, 1, 96000.0, 48000.0, 1024);
    double largest = 0.0;
    for (std::size_t i = 500; i + 500 < got.size(); ++i) { // away from the abrupt ends
        largest = std::max(largest, std::abs(static_cast<double>(got[i])));
    }
    CHECK(20.0 * std::log10(largest / 0.5) < -100.0);
}
