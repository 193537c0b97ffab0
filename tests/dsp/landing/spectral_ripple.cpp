#include "dsp/landing/spectral_ripple.hpp"

#include "dsp/impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace retap;

namespace {

constexpr double ripple_rate_hz = 48000.0;
constexpr std::size_t ripple_onset = 960;

/// A click, and `strength` of it `delay` samples later, in a little noise.
std::vector<float> tap(std::size_t delay, float strength, unsigned seed) {
    std::vector<float> sound = test::white_noise(4800, 1e-5, seed);
    for (std::size_t i = 0; i < 3; ++i) { // short and wide, not flat
        const float click = i == 1 ? 0.5F : 0.1F;
        sound[ripple_onset + i] += click;
        sound[ripple_onset + delay + i] += strength * click;
    }
    return sound;
}

struct Told {
    double delay_ms;
    double height;
};

Told highest(const std::vector<float>& sound) {
    const dsp::TapSound one{.samples = sound, .onset = dsp::Position(ripple_onset)};
    const dsp::SpectralRipples ripples = dsp::spectral_ripples({&one, 1}, dsp::SampleRate(ripple_rate_hz));
    const auto& heights = ripples.of_tap.front();
    const auto best = std::ranges::max_element(heights) - heights.begin();
    return {.delay_ms = ripples.delays_ms[static_cast<std::size_t>(best)],
            .height = heights[static_cast<std::size_t>(best)]};
}

} // namespace

TEST_CASE("a repeat leaves a ripple at its delay, as high as its strength") {
    // log|1 + a exp(-iwt)| = a cos(wt) - a^2/2 cos(2wt) + ..: the series of the logarithm.
    for (const std::size_t delay : {24U, 48U, 144U, 240U}) {
        CAPTURE(delay);
        const Told told = highest(tap(delay, 0.4F, 1));
        CHECK(told.delay_ms == doctest::Approx(1e3 * static_cast<double>(delay) / ripple_rate_hz).epsilon(0.06));
        CHECK(told.height == doctest::Approx(0.4).epsilon(0.1));
    }
}

TEST_CASE("without a repeat there is hardly a ripple, and gain and polarity change none") {
    CHECK(highest(tap(0, 0.0F, 2)).height < 0.05);
    std::vector<float> sound = tap(48, 0.4F, 3);
    const double as_it_was = highest(sound).height;
    std::ranges::transform(sound, sound.begin(), [](float v) { return -0.01F * v; });
    CHECK(highest(sound).height == doctest::Approx(as_it_was).epsilon(1e-3));
}

TEST_CASE("a tap that does not reach far enough has no ripple") {
    std::vector<float> sound = tap(48, 0.4F, 4);
    sound.resize(ripple_onset + 480);
    CHECK(highest(sound).height == 0.0);
}
