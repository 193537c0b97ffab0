#include "compare/heard_channel.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <utility>
#include <vector>

using namespace retap;
using compare::HeardChannel;

namespace {

/// 500 samples of quiet and 100 of tap.
std::vector<float> sound(float quiet, float tap) {
    std::vector<float> x(600, quiet);
    for (std::size_t i = 500; i < x.size(); ++i) {
        x[i] = tap;
    }
    return x;
}

dsp::TakeAnalysis take_of(std::vector<float> left, std::vector<float> right, bool usable = true) {
    dsp::Tap tap;
    tap.usable = usable;
    tap.excerpt = {.samples = sound(0.01F, 0.3F), .sides = {std::move(left), std::move(right)}, .onset_index = 500.0};
    dsp::TakeAnalysis take;
    take.taps.push_back(std::move(tap));
    return take;
}

HeardChannel heard(const std::vector<dsp::TakeAnalysis>& before, const std::vector<dsp::TakeAnalysis>& after) {
    return compare::heard_channel(before, after);
}

const dsp::TakeAnalysis left_better = take_of(sound(0.01F, 0.3F), sound(0.02F, 0.3F));
const dsp::TakeAnalysis right_much_better = take_of(sound(0.01F, 0.3F), sound(0.001F, 0.3F));

} // namespace

TEST_CASE("the channel in which the taps stand further over the quiet is heard, not the louder one") {
    CHECK(heard({left_better}, {left_better}) == HeardChannel::left);
    CHECK(heard({right_much_better}, {right_much_better}) == HeardChannel::right);
    const dsp::TakeAnalysis right_loud = take_of(sound(0.001F, 0.03F), sound(0.1F, 0.9F));
    CHECK(heard({right_loud}, {right_loud}) == HeardChannel::left);
    const dsp::TakeAnalysis equal = take_of(sound(0.01F, 0.3F), sound(0.01F, 0.3F));
    CHECK(heard({equal}, {equal}) == HeardChannel::left);
}

TEST_CASE("one channel is heard on both sides, whichever side comes first") {
    CHECK(heard({left_better}, {right_much_better}) == HeardChannel::right);
    CHECK(heard({right_much_better}, {left_better}) == HeardChannel::right);
    CHECK(heard({left_better, left_better, left_better, left_better}, {right_much_better}) == HeardChannel::left);
}

TEST_CASE("taps that cannot be used do not choose the channel") {
    dsp::TakeAnalysis take = left_better;
    take.taps.push_back(take_of(sound(0.01F, 0.3F), sound(0.0F, 0.9F), false).taps.front());
    CHECK(heard({take}, {left_better}) == HeardChannel::left);
}

TEST_CASE("where one take has a single channel, the mean of the other's is heard") {
    CHECK(heard({left_better}, {take_of({}, {})}) == HeardChannel::mean);
    CHECK(heard({take_of({}, {})}, {take_of({}, {})}) == HeardChannel::mean);
}

TEST_CASE("the sound of a channel is that channel's") {
    const dsp::Excerpt excerpt{.samples = {1.0F}, .sides = {{{2.0F}, {3.0F}}}, .onset_index = 0.0};
    CHECK(compare::sound_in(excerpt, HeardChannel::mean)[0] == 1.0F);
    CHECK(compare::sound_in(excerpt, HeardChannel::left)[0] == 2.0F);
    CHECK(compare::sound_in(excerpt, HeardChannel::right)[0] == 3.0F);
}
