#include "dsp/onset/stack_alignment.hpp"

#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <vector>

using namespace retap;
using namespace retap::dsp;

namespace {

constexpr StackLengths length{.before = 24, .after = 96, .farthest = 24, .search = 72, .quiet = 288};

/// A stroke that begins at `onset`, in noise 40 dB under it; believed to begin `late` samples later.
struct Stroke {
    double onset;
    double late;
    double level = 1.0;
    double hz = 2000.0;
};

std::vector<float> sound_of(const Stroke& stroke, unsigned seed) {
    const test::DampedSine sine{.amplitude = 0.5 * stroke.level, .frequency_hz = stroke.hz, .decay_per_s = 900.0};
    std::vector<float> sound = test::sampled(sine, 2400, stroke.onset, 48000.0);
    test::add(sound, test::white_noise(sound.size(), 0.005 * stroke.level, seed));
    return sound;
}

std::vector<StackedTap> laid(const std::vector<Stroke>& strokes) {
    std::vector<StackedTap> taps;
    unsigned seed = 40;
    for (const Stroke& stroke : strokes) {
        const std::vector<float> sound = sound_of(stroke, ++seed);
        const NoiseModel noise{.prediction = {}, .residual = 0.005};
        auto tap = lay({.samples = sound, .onset = Position(stroke.onset + stroke.late)}, noise, length);
        REQUIRE(tap);
        taps.push_back(std::move(*tap));
    }
    return taps;
}

/// Where in its own samples each tap lies, less where its stroke begins.
std::vector<double> offsets(const std::vector<StackedTap>& taps, const std::vector<Stroke>& strokes) {
    std::vector<double> offsets;
    for (std::size_t i = 0; i < taps.size(); ++i) {
        offsets.push_back(static_cast<double>(taps[i].begin) + taps[i].at - strokes[i].onset);
    }
    return offsets;
}

const std::vector<Stroke> five{{960.0, 0.0}, {961.5, 9.0}, {958.25, 3.0, 0.25}, {960.75, -4.0, 2.0}, {963.0, 14.0}};

} // namespace

TEST_CASE("a tap is laid at its own onset, in standard deviations of its noise") {
    const std::vector<StackedTap> taps = laid(five);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        CAPTURE(i);
        CHECK(static_cast<double>(taps[i].begin) + taps[i].own == doctest::Approx(five[i].onset + five[i].late));
        CHECK(taps[i].at == taps[i].own);
        const double power = five[i].level * five[i].level;
        CHECK(taps[i].noise_power == doctest::Approx(power).epsilon(0.3)); // of 216 samples
    }
}

TEST_CASE("strokes of one sound end up over each other, however loud, and however late each was believed to begin") {
    std::vector<StackedTap> taps = laid(five);
    align_stack(taps, length);
    const std::vector<double> apart = offsets(taps, five);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        CAPTURE(i);
        CHECK(std::abs(apart[i] - apart[0]) < 1.0); // what they are laid over is the others by whole samples
        CHECK(taps[i].likeness > 0.95);
    }
}

TEST_CASE("the median tap stays at its own onset: where they all are is not to be learned from each other") {
    std::vector<StackedTap> taps = laid(five);
    align_stack(taps, length);
    std::vector<double> moves;
    std::ranges::transform(taps, std::back_inserter(moves), [](const StackedTap& tap) { return tap.at - tap.own; });
    std::ranges::sort(moves);
    CHECK(moves[2] == doctest::Approx(0.0));
    CHECK(moves[0] < -5.0);
    CHECK(moves[4] > 5.0);
}

TEST_CASE("the lags that are sought hold the best one of a plain search") {
    std::vector<StackedTap> taps = laid({five[0], five[1], five[2]});
    std::vector<StackedTap> others = taps;
    align_stack(taps, length);
    // Twin: the last of three against the other two where they came to lie, every whole lag about its own onset.
    double best = -1.0;
    std::ptrdiff_t best_lag = 0;
    for (std::ptrdiff_t lag = -length.farthest; lag <= length.farthest; ++lag) {
        double sum = 0.0;
        double squares = 0.0;
        for (std::ptrdiff_t n = -length.before; n < length.after; ++n) {
            const auto sample = [&](const StackedTap& tap, double at, std::ptrdiff_t shift) {
                return static_cast<double>(tap.white[static_cast<std::size_t>(std::lround(at) + n + shift)]);
            };
            const double mine = sample(others[2], others[2].own, lag);
            sum += mine * (sample(taps[0], taps[0].at, 0) + sample(taps[1], taps[1].at, 0));
            squares += mine * mine;
        }
        if (sum / std::sqrt(squares) > best) {
            best = sum / std::sqrt(squares);
            best_lag = lag;
        }
    }
    CHECK(std::abs(taps[2].at - (others[2].own + static_cast<double>(best_lag))) < 1.0);
}

TEST_CASE("a tap of another sound is little like the others, and leaves them where they are") {
    std::vector<Stroke> strokes = five;
    strokes.push_back({960.0, 2.0, 30.0, 7300.0}); // 30 times as loud
    std::vector<StackedTap> taps = laid(strokes);
    align_stack(taps, length);
    CHECK(taps.back().likeness < 0.5);
    const std::vector<double> apart = offsets(taps, strokes);
    for (std::size_t i = 0; i < five.size(); ++i) {
        CHECK(std::abs(apart[i] - apart[0]) < 1.0);
    }
}

TEST_CASE("a tap with too little sound before or behind it is not laid") {
    const std::vector<float> sound = sound_of({960.0, 0.0}, 3);
    const NoiseModel noise{.prediction = {0.1, 0.0}, .residual = 0.005};
    const auto laid_at = [&](double onset) {
        return lay({.samples = sound, .onset = Position(onset)}, noise, length).has_value();
    };
    CHECK_FALSE(laid_at(289.0)); // 288 and the two that the prediction needs
    CHECK(laid_at(290.0));
    CHECK(laid_at(2400.0 - 96.0 - 48.0 - 72.0));
    CHECK_FALSE(laid_at(2401.0 - 96.0 - 48.0 - 72.0));
}
