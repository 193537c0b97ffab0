#include "dsp/find/tap_finder.hpp"

#include "dsp/run/qualify_run.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

using namespace retap::dsp;

namespace {

std::vector<float> noise(std::size_t n, float rms, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<float> normal(0.0F, rms);
    std::vector<float> x(n);
    for (float& v : x) {
        v = normal(random);
    }
    return x;
}

// Three damped modes that start together: what an ideal hammer blow leaves of a small hard body.
void add_tap(std::vector<float>& sound, double at, double peak, double rate) {
    constexpr double modes[3][3] = {{900.0, 0.006, 0.5}, {2300.0, 0.004, 0.6}, {5200.0, 0.0015, 0.4}};
    for (auto n = static_cast<std::size_t>(std::ceil(at)); n < sound.size(); ++n) {
        const double t = (static_cast<double>(n) - at) / rate;
        if (t > 0.08) {
            break;
        }
        double sum = 0.0;
        for (const auto& [hz, decay, amplitude] : modes) {
            sum += amplitude * std::exp(-t / decay) * std::sin(2.0 * std::numbers::pi * hz * t);
        }
        sound[n] += static_cast<float>(peak * sum);
    }
}

std::vector<FoundEvent> find(const std::vector<float>& sound, double rate, std::size_t block) {
    TapFinder finder{SampleRate(rate), {}};
    std::vector<FoundEvent> all;
    for (std::size_t at = 0; at < sound.size(); at += block) {
        const auto some = finder.feed(std::span<const float>(sound).subspan(at, std::min(block, sound.size() - at)));
        all.insert(all.end(), some.begin(), some.end());
    }
    const auto rest = finder.finish();
    all.insert(all.end(), rest.begin(), rest.end());
    qualify_run(all, SampleRate(rate), {});
    return all;
}

std::vector<double> tap_onsets(const std::vector<FoundEvent>& events) {
    std::vector<double> onsets;
    for (const FoundEvent& e : events) {
        if (e.is_tap) {
            onsets.push_back(e.onset.samples());
        }
    }
    return onsets;
}

} // namespace

TEST_CASE("taps laid down at known samples come back at those samples") {
    constexpr double rate = 48000.0;
    auto sound = noise(static_cast<std::size_t>(4.0 * rate), 0.001F, 11);
    std::vector<double> truth;
    for (int i = 0; i < 9; ++i) {
        truth.push_back(12000.0 + 17000.0 * i);
        add_tap(sound, truth.back(), 0.5, rate);
    }
    const auto onsets = tap_onsets(find(sound, rate, 4096));
    REQUIRE(onsets.size() == truth.size());
    for (std::size_t i = 0; i < truth.size(); ++i) {
        CHECK(std::abs(onsets[i] - truth[i]) <= 0.05e-3 * rate);
    }
}

TEST_CASE("the size of the blocks changes nothing") {
    constexpr double rate = 48000.0;
    auto sound = noise(static_cast<std::size_t>(2.5 * rate), 0.003F, 12);
    for (int i = 0; i < 5; ++i) {
        add_tap(sound, 9000.25 + 16000.5 * i, 0.3, rate);
    }
    const auto whole = find(sound, rate, sound.size());
    for (const std::size_t block : {std::size_t{1}, std::size_t{17}, std::size_t{64}, std::size_t{1000}}) {
        const auto parts = find(sound, rate, block);
        REQUIRE(parts.size() == whole.size());
        for (std::size_t i = 0; i < whole.size(); ++i) {
            CHECK(parts[i].onset == whole[i].onset);
            CHECK(parts[i].is_tap == whole[i].is_tap);
            CHECK(parts[i].reason == whole[i].reason);
        }
    }
}

TEST_CASE("silence, an offset, one sample and nothing at all hold no events") {
    for (const auto& sound : {std::vector<float>(96000, 0.0F), std::vector<float>(96000, 0.25F),
                              std::vector<float>(1, 0.5F), std::vector<float>()}) {
        CHECK(tap_onsets(find(sound, 48000.0, 512)).empty());
    }
}
