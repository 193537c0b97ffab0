#include "compare/compare_takes.hpp"
#include "skipped.hpp"

#include "dsp/filters/fractional_delay.hpp"

#include "dsp/real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <span>
#include <string>
#include <utility>
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
    return compare::compare_takes(std::span(&before, 1), std::span(&after, 1), compare::Setting::unknown, settings);
}

bool spoke(const compare::Comparison& comparison, compare::EvidenceKind kind) {
    const auto found = std::ranges::find(comparison.evidence, kind, &compare::Evidence::kind);
    REQUIRE(found != comparison.evidence.end());
    return found->spoke;
}

/// The same take by `db` softer in the noise that it had, with the figures that the sound stage would give it.
dsp::TakeAnalysis softer(dsp::TakeAnalysis take, double db, unsigned seed) {
    const double gain = std::pow(10.0, -db / 20.0);
    for (std::size_t t = 0; t < take.taps.size(); ++t) {
        dsp::Tap& tap = take.taps[t];
        tap.peak_dbfs = -12.0 - db;
        const std::vector<float> noise =
            test::white_noise(tap.excerpt.samples.size(), 1e-3, 1000 * seed + static_cast<unsigned>(t));
        std::vector<float> samples = tap.excerpt.samples.all();
        for (std::size_t i = 0; i < noise.size(); ++i) {
            samples[i] = static_cast<float>(gain) * samples[i] + noise[i];
        }
        tap.excerpt.samples = std::move(samples);
    }
    take.fitness.snr_db = 50.0 - db;
    return take;
}

dsp::TakeAnalysis unfit(dsp::TakeAnalysis take, double snr_db, const std::string& reason) {
    take.fitness.snr_db = snr_db;
    take.fitness.usable = false;
    take.fitness.reasons = {reason};
    return take;
}

bool says(const compare::Comparison& comparison, const std::string& words) {
    return std::ranges::any_of(comparison.reasons,
                               [&](const std::string& reason) { return reason.find(words) != std::string::npos; });
}

} // namespace

TEST_CASE("a light contact of another sound that comes earlier before the main one lowers the likeness") {
    const dsp::TakeAnalysis before = take(0.3, 1);
    if (before.taps.empty()) {
        retap::test::skipped("install the package hydrogen-drumkits");
        return;
    }
    const dsp::TakeAnalysis again = take(0.3, 2);
    const dsp::TakeAnalysis early = take(1.0, 3);
    compare::CompareSettings deaf_to_first_sound;
    deaf_to_first_sound.first_sound.power = 0.0;
    const compare::Comparison raised = compared(before, early);
    const compare::Comparison same = compared(before, again);
    CHECK(raised.likeness.score < compared(before, early, deaf_to_first_sound).likeness.score - 15.0);
    CHECK(raised.verdict == compare::Verdict::different);
    CHECK(same.likeness.score >= compared(before, again, deaf_to_first_sound).likeness.score);
    CHECK(spoke(raised, compare::EvidenceKind::first_sound));
    CHECK_FALSE(spoke(same, compare::EvidenceKind::first_sound));

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
        retap::test::skipped("install the package hydrogen-drumkits");
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

TEST_CASE("taps that are softer at one setting are not alike, and a second take that repeats it makes them different") {
    const dsp::TakeAnalysis before = softer(take(0.3, 1), 0.0, 1);
    if (before.taps.empty()) {
        retap::test::skipped("install the package hydrogen-drumkits");
        return;
    }
    const std::array after{softer(take(0.3, 2), 14.0, 2), softer(take(0.3, 3), 15.0, 3)};
    const auto judged = [&](std::size_t takes, compare::Setting setting) {
        return compare::compare_takes(std::span(&before, 1), std::span(after).first(takes), setting);
    };
    CHECK(judged(1, compare::Setting::unknown).verdict == compare::Verdict::alike);
    const compare::Comparison once = judged(1, compare::Setting::same);
    CHECK(once.verdict == compare::Verdict::unclear);
    CHECK(says(once, "14 dB softer than before at the same setting"));
    CHECK(says(once, "Record once more"));
    const compare::Comparison twice = judged(2, compare::Setting::same);
    CHECK(twice.verdict == compare::Verdict::different);
    CHECK(spoke(twice, compare::EvidenceKind::level));
    CHECK(twice.likeness.score < once.likeness.score + 5.0);
}

TEST_CASE("taps too soft to measure beside their baseline are told so, and no one is sent after noise") {
    const dsp::TakeAnalysis before = softer(take(0.3, 1), 0.0, 1);
    if (before.taps.empty()) {
        retap::test::skipped("install the package hydrogen-drumkits");
        return;
    }
    const auto noisy = [](const dsp::TakeAnalysis& take) {
        return unfit(take, 15.0, "The taps stand only 15 dB above the background. Switch off suction.");
    };
    const std::array after{noisy(softer(take(0.3, 2), 30.0, 2)), noisy(softer(take(0.3, 3), 31.0, 3))};
    const auto judged = [&](std::size_t takes, compare::Setting setting) {
        return compare::compare_takes(std::span(&before, 1), std::span(after).first(takes), setting);
    };
    const compare::Comparison unknown = judged(1, compare::Setting::unknown);
    CHECK(unknown.verdict == compare::Verdict::unclear);
    CHECK(says(unknown, "suction"));
    CHECK_FALSE(tells(unknown.likeness));
    const compare::Comparison once = judged(1, compare::Setting::same);
    CHECK(once.verdict == compare::Verdict::unclear);
    CHECK(says(once, "softer than before"));
    CHECK_FALSE(says(once, "suction"));
    CHECK(tells(once.likeness));
    CHECK(judged(2, compare::Setting::same).verdict == compare::Verdict::different);
    // a fault that has nothing to do with softness stays in the way
    std::array clipped = after;
    clipped[1].fitness.clipped_samples = 3;
    CHECK(compare::compare_takes(std::span(&before, 1), clipped, compare::Setting::same).verdict ==
          compare::Verdict::unclear);
}
