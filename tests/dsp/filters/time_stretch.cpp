#include "dsp/filters/time_stretch.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <doctest/doctest.h>
#include <numbers>
#include <vector>

using namespace retap::dsp;

namespace {

constexpr double rate_hz = 48000.0;

/// Size of the part at one frequency, by a plain sum; 1 for a sine of amplitude 1.
double part_at(const std::vector<float>& signal, std::size_t from, std::size_t to, double hz) {
    double re = 0.0;
    double im = 0.0;
    double weight = 0.0;
    for (std::size_t i = from; i < to; ++i) {
        const double w = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * static_cast<double>(i - from) /
                                              static_cast<double>(to - from));
        const double angle = 2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz;
        re += w * static_cast<double>(signal[i]) * std::cos(angle);
        im += w * static_cast<double>(signal[i]) * std::sin(angle);
        weight += w;
    }
    return 2.0 * std::hypot(re, im) / weight;
}

} // namespace

TEST_CASE("a steady sine keeps its frequency and its level however slow it plays") {
    std::vector<float> sine(12000);
    for (std::size_t i = 0; i < sine.size(); ++i) {
        sine[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * 2000.0 * static_cast<double>(i) / rate_hz));
    }
    for (const double factor : {1.0, 4.0, 10.0}) {
        const std::vector<float> slow = stretch(sine, factor);
        CAPTURE(factor);
        REQUIRE(slow.size() == static_cast<std::size_t>(12000.0 * factor));
        const std::size_t from = slow.size() / 4;
        const std::size_t to = 3 * slow.size() / 4;
        CHECK(std::abs(20.0 * std::log10(part_at(slow, from, to, 2000.0))) < 1.0);
        // An octave lower is where playing it slower by half would have put it.
        CHECK(part_at(slow, from, to, 2000.0 / std::max(factor, 2.0)) < 0.01);
    }
}

TEST_CASE("not stretched at all, the signal comes back as it was") {
    std::vector<float> signal(3000, 0.0F);
    for (std::size_t i = 1000; i < 1400; ++i) {
        const double t = static_cast<double>(i - 1000) / rate_hz;
        signal[i] = static_cast<float>(std::exp(-700.0 * t) * std::sin(2.0 * std::numbers::pi * 1900.0 * t));
    }
    const std::vector<float> same = stretch(signal, 1.0);
    double worst = 0.0;
    for (std::size_t i = 0; i < signal.size(); ++i) {
        worst = std::max(worst, static_cast<double>(std::abs(same[i] - signal[i])));
    }
    CHECK(worst < 1e-4); // phases added up over hops in single precision
}

TEST_CASE("two impacts stretched by eight are eight times as far apart") {
    std::vector<float> signal(9600, 0.0F);
    for (const std::size_t at : {2400UL, 4800UL}) {
        for (std::size_t i = 0; i < 200; ++i) {
            const double t = static_cast<double>(i) / rate_hz;
            signal[at + i] = static_cast<float>(std::exp(-1500.0 * t) * std::sin(2.0 * std::numbers::pi * 3000.0 * t));
        }
    }
    const std::vector<float> slow = stretch(signal, 8.0);
    const auto loudest = [&](std::size_t from, std::size_t to) {
        return std::max_element(slow.begin() + static_cast<std::ptrdiff_t>(from),
                                slow.begin() + static_cast<std::ptrdiff_t>(to),
                                [](float a, float b) { return std::abs(a) < std::abs(b); }) -
               slow.begin();
    };
    const auto apart = static_cast<double>(loudest(28800, 76800) - loudest(0, 28800));
    CHECK(std::abs(apart - 8.0 * 2400.0) < 256.0); // one frame
}

TEST_CASE("nothing stretched is nothing, and silence stays silent") {
    CHECK(stretch({}, 4.0).empty());
    const std::vector<float> silence(100, 0.0F);
    const std::vector<float> slow = stretch(silence, 3.0);
    CHECK(slow.size() == 300);
    CHECK(std::all_of(slow.begin(), slow.end(), [](float x) { return x == 0.0F; }));
}
