// What must not move the score, on takes of simulated bites.
#include "audio/inspect_file.hpp"
#include "audio/resample.hpp"
#include "bite/make_take.hpp"
#include "compare/compare_takes.hpp"
#include "dsp/impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <vector>

using namespace retap;

namespace {

audio::Sound heard(std::uint64_t patient, std::uint64_t take, double height_um) {
    bite::Scenario scenario{.patient = patient, .take = take, .seat = take};
    if (height_um != 0.0) {
        scenario.change = {.heights = {{.pair = 3, .height_um = height_um}}};
    }
    const bite::Take made = bite::make_take(scenario);
    return {.sample_rate_hz = made.sample_rate_hz, .channels = 1, .interleaved = made.channels.front()};
}

audio::Sound each_sample(audio::Sound sound, const std::function<float(float)>& change) {
    std::ranges::transform(sound.interleaved, sound.interleaved.begin(), change);
    return sound;
}

audio::Sound at_rate(const audio::Sound& sound, double rate_hz) {
    audio::Resampler resampler(sound.channels, sound.sample_rate_hz, rate_hz);
    audio::Sound out{.sample_rate_hz = rate_hz, .channels = sound.channels, .interleaved = {}};
    const auto most = resampler.process(sound.interleaved);
    out.interleaved.assign(most.begin(), most.end());
    const auto rest = resampler.finish();
    out.interleaved.insert(out.interleaved.end(), rest.begin(), rest.end());
    return out;
}

/// On the right a second pick-up, which hears half as much so many samples later, and some noise.
audio::Sound with_second_pickup(const audio::Sound& sound, std::size_t later) {
    const std::vector<float> noise = test::white_noise(sound.interleaved.size(), 1e-4, static_cast<unsigned>(later));
    audio::Sound both{.sample_rate_hz = sound.sample_rate_hz, .channels = 2, .interleaved = {}};
    for (std::size_t i = 0; i < sound.interleaved.size(); ++i) {
        const float heard = i >= later ? 0.5F * sound.interleaved[i - later] : 0.0F;
        both.interleaved.insert(both.interleaved.end(), {sound.interleaved[i], heard + noise[i]});
    }
    return both;
}

double score(const audio::Sound& before, const audio::Sound& after) {
    const dsp::TakeAnalysis one = audio::inspect_sound(before, "before");
    const dsp::TakeAnalysis other = audio::inspect_sound(after, "after");
    return compare::compare_takes(std::span(&one, 1), std::span(&other, 1)).likeness.score;
}

} // namespace

TEST_CASE("what the microphone and the computer do to a take alike does not move the score") {
    struct Pair {
        std::uint64_t patient;
        double height_um;
    };
    for (const Pair pair : {Pair{5, 0.0}, Pair{8, 0.0}, Pair{5, 60.0}}) {
        CAPTURE(pair.patient);
        CAPTURE(pair.height_um);
        const audio::Sound before = heard(pair.patient, 1, 0.0);
        const audio::Sound after = heard(pair.patient, 2, pair.height_um);
        const double usual = score(before, after);
        CAPTURE(usual);
        SUBCASE("gain") {
            CHECK(std::abs(score(before, each_sample(after, [](float v) { return 0.4F * v; })) - usual) <= 1.0);
        }
        SUBCASE("polarity") {
            CHECK(std::abs(score(before, each_sample(after, [](float v) { return -v; })) - usual) <= 1.0);
        }
        SUBCASE("offset") {
            CHECK(std::abs(score(before, each_sample(after, [](float v) { return v + 0.03F; })) - usual) <= 1.0);
        }
        SUBCASE("silence before it") {
            audio::Sound later = after;
            later.interleaved.insert(later.interleaved.begin(), 33333, 0.0F);
            CHECK(std::abs(score(before, later) - usual) <= 1.0);
        }
        SUBCASE("the same in both channels") {
            audio::Sound both{.sample_rate_hz = after.sample_rate_hz, .channels = 2, .interleaved = {}};
            for (const float v : after.interleaved) {
                both.interleaved.insert(both.interleaved.end(), 2, v);
            }
            CHECK(std::abs(score(before, both) - usual) <= 1.0);
        }
        SUBCASE("a second pick-up that was put back elsewhere") {
            CHECK(std::abs(score(with_second_pickup(before, 20), with_second_pickup(after, 33)) - usual) <= 5.0);
        }
        SUBCASE("which is called before") {
            // NOLINTNEXTLINE(readability-suspicious-call-argument): swapped on purpose
            CHECK(std::abs(score(after, before) - usual) <= 1.0);
        }
        SUBCASE("a copy at 44.1 kHz") {
            CHECK(std::abs(score(before, at_rate(after, 44100.0)) - usual) <= 2.0);
        }
        SUBCASE("a copy at 96 kHz") {
            CHECK(std::abs(score(before, at_rate(after, 96000.0)) - usual) <= 2.0);
        }
    }
}

TEST_CASE(
    "a take against itself, also at another level, rate or the other way up, is one recording and no comparison") {
    const audio::Sound take = heard(5, 1, 0.0);
    const auto one_recording = [&](const audio::Sound& other) {
        const dsp::TakeAnalysis one = audio::inspect_sound(take, "before");
        const dsp::TakeAnalysis two = audio::inspect_sound(other, "after");
        return compare::compare_takes(std::span(&one, 1), std::span(&two, 1)).same_sound;
    };
    CHECK(one_recording(take));
    CHECK(one_recording(each_sample(take, [](float v) { return -0.5F * v; })));
    CHECK(one_recording(at_rate(take, 44100.0)));
    audio::Sound cut = take;
    cut.interleaved.insert(cut.interleaved.begin(), 33333, 0.0F);
    CHECK(one_recording(cut));
    for (const double height_um : {0.0, 200.0}) {
        CHECK_FALSE(one_recording(heard(5, 2, height_um)));
    }
}
