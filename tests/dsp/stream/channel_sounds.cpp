#include "dsp/stream/channel_sounds.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

using namespace retap::dsp;

namespace {

float left_at(std::size_t n) {
    return 0.25F * static_cast<float>(n);
}
float right_at(std::size_t n) {
    return 1.0F - 0.125F * static_cast<float>(n);
}

std::vector<float> stereo(std::size_t from, std::size_t to) {
    std::vector<float> both;
    for (std::size_t n = from; n < to; ++n) {
        both.push_back(left_at(n));
        both.push_back(right_at(n));
    }
    return both;
}

} // namespace

TEST_CASE("two channels are taken apart, meant, and cut out alike") {
    ChannelSounds sounds(2, 100);
    std::size_t heard = 0;
    for (const std::size_t frames : {1U, 7U, 0U, 12U}) {
        const std::vector<float> part = stereo(heard, heard + frames);
        const std::span<const float> mono = sounds.push(part);
        REQUIRE(mono.size() == frames);
        for (std::size_t i = 0; i < frames; ++i) {
            CHECK(mono[i] == 0.5F * (left_at(heard + i) + right_at(heard + i))); // exact: eighths
        }
        heard += frames;
    }
    CHECK(sounds.end() == 20);
    const Excerpt tap = sounds.cut(6, 11, 8.25);
    CHECK(tap.onset_index == 2.25);
    REQUIRE(tap.samples.size() == 5);
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(tap.sides[0][i] == left_at(6 + i));
        CHECK(tap.sides[1][i] == right_at(6 + i));
        CHECK(tap.samples[i] == 0.5F * (left_at(6 + i) + right_at(6 + i)));
    }
}

TEST_CASE("one channel is its own mean and has no sides") {
    ChannelSounds sounds(1, 100);
    const std::vector<float> part{0.5F, -0.25F, 0.125F};
    CHECK(sounds.push(part)[1] == -0.25F);
    const Excerpt tap = sounds.cut(1, 3, 1.5);
    CHECK(tap.samples == std::vector<float>{-0.25F, 0.125F});
    CHECK(tap.sides[0].empty());
    CHECK(tap.sides[1].empty());
}

TEST_CASE("what lies before the recording or after its end reads as zero") {
    ChannelSounds sounds(2, 100);
    (void)sounds.push(stereo(0, 2));
    const Excerpt tap = sounds.cut(-1, 3, 0.0);
    CHECK(tap.onset_index == 1.0);
    CHECK(tap.sides[1] == std::vector<float>{0.0F, right_at(0), right_at(1), 0.0F});
    CHECK(tap.samples[0] == 0.0F);
    CHECK(tap.samples[3] == 0.0F);
}
