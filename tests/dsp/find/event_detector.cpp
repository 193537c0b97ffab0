#include "dsp/find/event_detector.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <span>
#include <vector>

using namespace retap::dsp;

namespace {

constexpr double detector_rate = 48000.0;

struct Rise {
    double first_s;
    double at_s;
    double prominence;
};

std::vector<Rise> detect(const std::vector<float>& sound) {
    EventDetector detector(SampleRate(detector_rate), {});
    std::vector<RoughEvent> all;
    for (std::size_t at = 0; at + detector.frame_length() <= sound.size(); at += detector.frame_length()) {
        const auto some = detector.process(std::span<const float>(sound).subspan(at, detector.frame_length()));
        all.insert(all.end(), some.begin(), some.end());
    }
    const auto rest = detector.finish();
    all.insert(all.end(), rest.begin(), rest.end());
    std::vector<Rise> rises;
    rises.reserve(all.size());
    for (const RoughEvent& event : all) {
        rises.push_back({detector.time_of(event.first).seconds(SampleRate(detector_rate)),
                         detector.time_of(event.main).seconds(SampleRate(detector_rate)), event.prominence});
    }
    return rises;
}

Rise rise_at(double at_s, const std::vector<float>& sound) {
    Rise most{};
    for (const Rise& rise : detect(sound)) {
        if (std::abs(rise.at_s - at_s) < 0.01 && rise.prominence > most.prominence) {
            most = rise;
        }
    }
    return most;
}

double most_prominent_at(double at_s, const std::vector<float>& sound) {
    return rise_at(at_s, sound).prominence;
}

/// Gaussian noise whose logarithmic level wanders with standard deviation `unrest`, within about a tenth of a second.
std::vector<float> noise(double seconds, double unrest, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    const double keep = std::exp(-2.0 * 3.14159265 * 9.0 / detector_rate);
    double wander = 0.0;
    std::vector<float> sound(static_cast<std::size_t>(seconds * detector_rate));
    for (float& x : sound) {
        wander = keep * wander + std::sqrt(1.0 - keep * keep) * normal(random);
        x = static_cast<float>(0.01 * std::exp(unrest * wander) * normal(random));
    }
    return sound;
}

/// A burst of 4 ms, `over` times the noise's mean level.
void add_burst(std::vector<float>& sound, double at_s, double over) {
    const auto from = static_cast<std::size_t>(at_s * detector_rate);
    for (std::size_t n = 0; n < 192; ++n) {
        sound[from + n] += static_cast<float>(0.01 * over * std::sin(0.4 * static_cast<double>(n)) *
                                              std::exp(-static_cast<double>(n) / 60.0));
    }
}

} // namespace

TEST_CASE("hissing and gurgling noise alike hold few events, and a burst stands out of both") {
    for (const double unrest : {0.0, 0.5}) {
        CAPTURE(unrest);
        auto sound = noise(12.0, unrest, 21);
        CHECK(detect(sound).size() <= 24); // two a second
        add_burst(sound, 6.0, 12.0);
        CHECK(most_prominent_at(6.0, sound) > 8.0);
    }
}

TEST_CASE("a soft thump that sounds below 375 Hz only stands out of noise as loud as itself") {
    // A period and a half of 150 Hz under a Hann window: nothing of it lies above 375 Hz. Its energy is
    // 3/16 * 480 samples * 0.03^2 = 0.081, the noise's in 10 ms 480 * 0.01^2 = 0.048, of which an eightieth lies in the
    // two octaves from 94 to 375 Hz.
    auto sound = noise(8.0, 0.0, 5);
    for (std::size_t n = 0; n < 480; ++n) {
        const double part = (static_cast<double>(n) + 0.5) / 480.0;
        sound[192000 + n] += static_cast<float>(0.03 * std::sin(2.0 * 3.14159265 * 1.5 * part) *
                                                (0.5 - 0.5 * std::cos(2.0 * 3.14159265 * part)));
    }
    CHECK(most_prominent_at(4.0, sound) > 8.0);
}

TEST_CASE("a tap begins with a first contact that is heard clearly before it, and not with a gurgle") {
    for (const double over : {2.2, 8.0}) {
        CAPTURE(over);
        auto alone = noise(8.0, 0.0, 21);
        auto both = alone;
        add_burst(alone, 3.975, over);
        add_burst(both, 3.975, over);
        add_burst(both, 4.0, 40.0);
        const double faint = most_prominent_at(3.975, alone);
        const Rise tap = rise_at(4.0, both);
        CHECK(tap.prominence > 100.0);
        if (over == 2.2) {
            CHECK(faint > 3.0); // it is seen, but noise that gurgles reaches as much
            CHECK(faint < 8.0);
            CHECK(tap.first_s == tap.at_s);
        } else {
            CHECK(faint > 8.0);
            CHECK(tap.first_s == doctest::Approx(3.975).epsilon(0.001)); // 4 ms: three frames
        }
    }
}
