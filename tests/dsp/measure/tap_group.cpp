#include "dsp/measure/tap_group.hpp"

#include "analysis_rate.hpp"
#include "dsp/onset/stacked_onset.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::dsp;
using retap::test::analysis_rate;

namespace {

constexpr std::size_t before = 960;
constexpr std::size_t cut_length = 7200;

/// Found `late` samples after it really begins, in noise 40 dB under it.
CutTap cut_tap(std::size_t number, double late) {
    CutTap cut;
    cut.event = number;
    cut.begin = static_cast<std::int64_t>(20000 * (number + 1));
    cut.found = Position(static_cast<double>(cut.begin) + static_cast<double>(before) + late);
    std::vector<float> sound = test::sampled({}, cut_length, static_cast<double>(before), analysis_rate.hz());
    test::add(sound, test::white_noise(cut_length, 0.002, 80 + static_cast<unsigned>(number)));
    cut.tap.excerpt = {.samples = std::move(sound), .sides = {}, .onset_index = static_cast<double>(before) + late};
    cut.tap.onset_s = cut.found.seconds(analysis_rate);
    return cut;
}

std::vector<CutTap> six_cut_taps() {
    std::vector<CutTap> taps;
    for (std::size_t i = 0; i < 6; ++i) {
        taps.push_back(cut_tap(i, 3.0 + 2.0 * static_cast<double>(i)));
    }
    return taps;
}

void measure(std::vector<CutTap>& taps, std::optional<Position> next = {}) {
    TapMeters meters(analysis_rate, {});
    measure_together(taps, next, Level::from_amplitude(0.002), meters, analysis_rate, {});
}

} // namespace

TEST_CASE("usable taps get the onsets that all of them together say, in the recording and in their excerpts") {
    std::vector<CutTap> taps = six_cut_taps();
    std::vector<TapSound> sounds;
    sounds.reserve(taps.size());
    for (const CutTap& cut : taps) {
        sounds.push_back({.samples = cut.tap.excerpt.samples.all(), .onset = Position(cut.tap.excerpt.onset_index)});
    }
    const auto pooled = stacked_onsets(sounds, analysis_rate, {});
    const std::vector<CutTap> as_found = taps;
    measure(taps);
    for (std::size_t i = 0; i < taps.size(); ++i) {
        REQUIRE(pooled[i]);
        CHECK(taps[i].tap.excerpt.onset_index == pooled[i]->samples());
        CHECK(taps[i].tap.onset_s ==
              doctest::Approx((static_cast<double>(taps[i].begin) + pooled[i]->samples()) / 48000.0));
        CHECK(std::abs(taps[i].tap.excerpt.onset_index - static_cast<double>(before)) < 5.0); // found up to 13 late
        CHECK(taps[i].tap.measured);
        CHECK(taps[i].tap.contacts.size() == 1);
    }
    CHECK(as_found[5].tap.excerpt.onset_index > static_cast<double>(before) + 12.0);
}

TEST_CASE("a tap that is not usable keeps the onset it was found at and is told no contacts") {
    std::vector<CutTap> taps = six_cut_taps();
    taps[2].tap.usable = false;
    measure(taps);
    CHECK(taps[2].tap.excerpt.onset_index == static_cast<double>(before) + 7.0);
    CHECK(taps[2].tap.onset_s == taps[2].found.seconds(analysis_rate));
    CHECK(taps[2].tap.contacts.empty());
    CHECK(taps[2].tap.measured); // its level still says something
    CHECK(taps[3].tap.contacts.size() == 1);
}

TEST_CASE("a tap is measured up to where its successor was found, the last one up to the next onset that is known") {
    std::vector<CutTap> taps = six_cut_taps();
    const auto soon = [&](const CutTap& cut) { return cut.found + Length::from_ms(4.0, analysis_rate); };
    taps[1].found = soon(taps[0]); // less the 2 ms that are left before a tap
    taps[5].found = soon(taps[4]);
    const Position after_last =
        Position(static_cast<double>(taps[5].begin) + 960.0) + Length::from_ms(4.0, analysis_rate);
    measure(taps, after_last);
    CHECK(taps[0].tap.duration_ms < 2.3);
    CHECK(taps[4].tap.duration_ms < 2.3);
    CHECK(taps[5].tap.duration_ms < 2.3);
    CHECK(taps[2].tap.duration_ms == doctest::Approx(4.6).epsilon(0.02)); // 20 dB down at ln 10 over 500 a second
}

TEST_CASE("no taps are no trouble") {
    std::vector<CutTap> none;
    measure(none);
    CHECK(none.empty());
}
