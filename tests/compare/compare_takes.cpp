#include "compare/compare_takes.hpp"

#include "dsp/filters/fractional_delay.hpp"

#include "dsp/real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace retap;

namespace {

constexpr std::size_t main_at = 960;

/// A take of eight taps: a stroke of two sticks (Debian package hydrogen-drumkits), and 26 dB under it, another one of
/// other sticks, `lead_ms` before.
dsp::TakeAnalysis take(double lead_ms, unsigned seed) {
    const std::string kit = "hydrogen/data/drumkits/ForzeeStereo/Stick-";
    const std::vector<float> heavy = test::recorded_strike(kit + "1.wav", 0);
    const std::vector<float> light = test::recorded_strike(kit + "3.wav", 0);
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0.0, 1.0);
    dsp::TakeAnalysis made;
    for (unsigned t = 0; t < 8 && !heavy.empty(); ++t) {
        const double level = 0.3 * std::pow(10.0, normal(random) / 20.0);
        std::vector<float> first(6000, 0.0F);
        std::ranges::copy(light, first.begin() + main_at);
        first = dsp::delayed(first, dsp::Length::from_ms(-lead_ms - 0.03 * normal(random), dsp::SampleRate(48000.0)));
        std::vector<float> sound = test::white_noise(first.size(), 1e-3, 100 * seed + t);
        for (std::size_t i = 0; i < sound.size(); ++i) {
            const double main =
                i >= main_at && i - main_at < heavy.size() ? static_cast<double>(heavy[i - main_at]) : 0.0;
            sound[i] += static_cast<float>(level * (main + 0.05 * static_cast<double>(first[i])));
        }
        dsp::Tap tap;
        tap.usable = true;
        tap.excerpt = {.samples = std::move(sound), .onset_index = main_at};
        made.taps.push_back(std::move(tap));
    }
    return made;
}

compare::Comparison compared(const dsp::TakeAnalysis& before, const dsp::TakeAnalysis& after,
                             const compare::CompareSettings& settings = {}) {
    return compare::compare_takes(std::span(&before, 1), std::span(&after, 1), settings);
}

} // namespace

TEST_CASE("a light contact of another sound that comes earlier before the main one lowers the likeness") {
    const dsp::TakeAnalysis before = take(0.3, 1);
    if (before.taps.empty()) {
        MESSAGE("skipped: install the package hydrogen-drumkits");
        return;
    }
    const dsp::TakeAnalysis again = take(0.3, 2);
    const dsp::TakeAnalysis early = take(1.0, 3);
    compare::CompareSettings by_landing_alone;
    by_landing_alone.first_sound.power = 0.0;
    by_landing_alone.first_sound.tolerance_ms = 1000.0;
    const compare::Comparison raised = compared(before, early);
    const compare::Comparison same = compared(before, again);
    CHECK(raised.likeness.score < compared(before, early, by_landing_alone).likeness.score - 15.0);
    CHECK(raised.verdict == compare::Verdict::different);
    CHECK(same.likeness.score >= compared(before, again, by_landing_alone).likeness.score);

    const auto first_sound = std::ranges::find(raised.measures, "first_sound", &compare::MeasureComparison::name);
    REQUIRE(first_sound != raised.measures.end());
    CHECK(std::abs(first_sound->difference - 0.7) < 0.05);
    CHECK(first_sound->finding == compare::Finding::beyond);
    CHECK(std::ranges::find(raised.reasons, first_sound->plain) != raised.reasons.end());
    const auto unmoved = std::ranges::find(same.measures, "first_sound", &compare::MeasureComparison::name);
    REQUIRE(unmoved != same.measures.end());
    CHECK(unmoved->finding == compare::Finding::within);
}

TEST_CASE("taps too dull to show contacts that land apart are never alike") {
    dsp::TakeAnalysis before = take(0.3, 1);
    if (before.taps.empty()) {
        MESSAGE("skipped: install the package hydrogen-drumkits");
        return;
    }
    dsp::TakeAnalysis again = take(0.3, 2);
    before.fitness.bandwidth_hz = 6000.0;
    again.fitness.bandwidth_hz = 6000.0;
    REQUIRE(compared(before, again).verdict == compare::Verdict::alike);
    again.fitness.bandwidth_hz = 1500.0;
    const compare::Comparison dull = compared(before, again);
    CHECK(dull.verdict == compare::Verdict::unclear);
    CHECK(dull.reasons.front().find("too dull") != std::string::npos);
    CHECK(compared(again, take(1.0, 3)).verdict == compare::Verdict::different);
}
