#include "audio/playback.hpp"

#include "made_sounds.hpp"

#include <cmath>
#include <cstddef>
#include <doctest/doctest.h>
#include <numbers>
#include <vector>

using namespace retap;
using namespace retap::audio;

namespace {

Sound sound(double rate_hz, int channels, std::vector<float> samples) {
    return {.sample_rate_hz = rate_hz, .channels = channels, .interleaved = std::move(samples)};
}

} // namespace

TEST_CASE("before and after are laid out in turn with a pause, sample by sample when nothing must be converted") {
    const std::vector takes = {sound(8000.0, 1, {0.1F, 0.2F}), sound(8000.0, 1, {0.3F})};
    const PlayPlan plan =
        plan_playback(takes, {.sample_rate_hz = 8000.0, .channels = 1}, {.times = 2, .pause_s = 2.0 / 8000.0});
    CHECK(plan.samples == std::vector{0.1F, 0.2F, 0.0F, 0.0F, 0.3F, 0.0F, 0.0F, 0.1F, 0.2F, 0.0F, 0.0F, 0.3F});
    using Part = PlayPlan::Part;
    CHECK(plan.parts == std::vector<Part>{{.take = 0, .begin_frame = 0, .end_frame = 2},
                                          {.take = 1, .begin_frame = 4, .end_frame = 5},
                                          {.take = 0, .begin_frame = 7, .end_frame = 9},
                                          {.take = 1, .begin_frame = 11, .end_frame = 12}});
}

TEST_CASE("one channel goes to both sides, and two become one by their mean") {
    const std::vector mono = {sound(8000.0, 1, {0.1F, 0.2F})};
    CHECK(plan_playback(mono, {.sample_rate_hz = 8000.0, .channels = 2}, {}).samples ==
          std::vector{0.1F, 0.1F, 0.2F, 0.2F});
    const std::vector stereo = {sound(8000.0, 2, {0.25F, 0.5F, -1.0F, 1.0F})};
    CHECK(plan_playback(stereo, {.sample_rate_hz = 8000.0, .channels = 1}, {}).samples == std::vector{0.375F, 0.0F});
}

TEST_CASE("a take at another rate keeps its length and its pitch") {
    std::vector<float> tone(44100);
    for (std::size_t i = 0; i < tone.size(); ++i) {
        tone[i] = static_cast<float>(std::sin(2.0 * std::numbers::pi * 1000.0 * static_cast<double>(i) / 44100.0));
    }
    const std::vector takes = {sound(44100.0, 1, tone)};
    const PlayPlan plan = plan_playback(takes, {.sample_rate_hz = 48000.0, .channels = 1}, {});
    CHECK(plan.samples.size() == 48000);
    double worst = 0.0;
    for (std::size_t i = 4800; i < 43200; ++i) { // away from the edges, where the tone begins and ends abruptly
        const double expected = std::sin(2.0 * std::numbers::pi * 1000.0 * static_cast<double>(i) / 48000.0);
        worst = std::max(worst, std::abs(static_cast<double>(plan.samples[i]) - expected));
    }
    CHECK(worst < 1e-5); // the converter's 121 dB, and float
}
