#include "dsp/take_analyser.hpp"

#include "dsp/analysis_settings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace retap::dsp;

TEST_CASE("a minute of gurgling suction does not use up the sound that is kept of taps") {
    constexpr double rate = analysis_rate_hz;
    constexpr double pi = 3.14159265358979;
    std::mt19937 random(31);
    std::normal_distribution<double> normal;
    const double keep = std::exp(-2.0 * pi * 9.0 / rate); // a level that wanders nine times a second
    double wander = 0.0;
    std::vector<float> sound(static_cast<std::size_t>(66.0 * rate));
    for (float& x : sound) {
        wander = keep * wander + std::sqrt(1.0 - keep * keep) * normal(random);
        x = static_cast<float>(0.002 * std::exp(0.6 * wander) * normal(random));
    }
    for (int tap = 0; tap < 10; ++tap) {
        const auto at = static_cast<std::size_t>((61.0 + 0.4 * tap) * rate);
        for (std::size_t n = 0; n < 2400; ++n) {
            const double t = static_cast<double>(n) / rate;
            sound[at + n] += static_cast<float>(0.3 * std::exp(-t / 0.005) * std::sin(2.0 * pi * 1800.0 * t));
        }
    }
    TakeAnalyser analyser(1);
    analyser.feed(sound);
    const TakeAnalysis take = analyser.finish();
    CHECK(take.turned_down.size() > TakeSettings{}.keep_sound_of);
    REQUIRE(take.taps.size() == 10);
    CHECK(std::ranges::none_of(take.taps, [](const Tap& tap) { return tap.excerpt.samples.empty(); }));
}

namespace {

/// Eight taps in steady noise, 4 s.
std::vector<float> eight_taps(double noise_rms) {
    constexpr double rate = analysis_rate_hz;
    std::mt19937 random(32);
    std::normal_distribution<double> normal;
    std::vector<float> sound(static_cast<std::size_t>(4.0 * rate));
    for (float& x : sound) {
        x = static_cast<float>(noise_rms * normal(random));
    }
    for (int tap = 0; tap < 8; ++tap) {
        const auto at = static_cast<std::size_t>((0.4 + 0.4 * tap) * rate);
        for (std::size_t n = 0; n < 2400; ++n) {
            const double t = static_cast<double>(n) / rate;
            sound[at + n] += static_cast<float>(0.3 * std::exp(-t / 0.005) * std::sin(2.0 * 3.14159265 * 1800.0 * t));
        }
    }
    return sound;
}

} // namespace

TEST_CASE("a pick-up that gives nothing is named, and is not taken for noise suppression") {
    const std::vector<float> one = eight_taps(0.001);
    for (const std::size_t dead : {0U, 1U, 2U}) { // 2: neither
        std::vector<float> two;
        for (const float x : one) {
            two.push_back(dead == 0 ? 0.0F : x);
            two.push_back(dead == 1 ? 0.0F : 0.5F * x);
        }
        TakeAnalyser analyser(2);
        analyser.feed(two);
        const Fitness fitness = analyser.finish().fitness;
        CAPTURE(dead);
        CHECK(fitness.usable);
        const auto says = [&](const char* words) {
            return std::ranges::any_of(fitness.cautions,
                                       [&](const std::string& s) { return s.find(words) != std::string::npos; });
        };
        CHECK(says("from the left pick-up") == (dead == 0));
        CHECK(says("from the right pick-up") == (dead == 1));
        CHECK_FALSE(says("noise suppression"));
    }
}

TEST_CASE("exact silence after the taps is not taken for the noise they stood in") {
    constexpr double rate = analysis_rate_hz;
    constexpr double noise_rms = 0.001;
    std::vector<float> sound = eight_taps(noise_rms);
    for (const double silence_s : {0.0, 2.0}) {
        sound.resize(static_cast<std::size_t>((4.0 + silence_s) * rate), 0.0F);
        TakeAnalyser analyser(1);
        analyser.feed(sound);
        const TakeAnalysis take = analyser.finish();
        CAPTURE(silence_s);
        REQUIRE(take.taps.size() == 8);
        CHECK(take.fitness.noise_dbfs == doctest::Approx(20.0 * std::log10(noise_rms)).epsilon(0.02)); // 1.2 dB
        CHECK(take.fitness.snr_db == doctest::Approx(49.3).epsilon(0.03)); // 0.29 at its first peak
    }
}

TEST_CASE("an offset that never changes is a pick-up that gives nothing, like exact silence") {
    for (const float offset : {0.0F, 0.02F, -0.4F}) {
        for (const std::size_t channels : {1U, 2U}) {
            TakeAnalyser analyser(static_cast<int>(channels));
            analyser.feed(std::vector<float>(channels * 96000, offset));
            const Fitness fitness = analyser.finish().fitness;
            CAPTURE(offset);
            CAPTURE(channels);
            REQUIRE(fitness.reasons.size() == 1);
            CHECK(fitness.reasons[0].starts_with("Nothing was heard."));
        }
    }
}

TEST_CASE("a pick-up that gives nothing but an offset is named") {
    std::vector<float> two;
    for (const float x : eight_taps(0.001)) {
        two.push_back(x);
        two.push_back(0.02F);
    }
    TakeAnalyser analyser(2);
    analyser.feed(two);
    const Fitness fitness = analyser.finish().fitness;
    CHECK(fitness.usable);
    REQUIRE_FALSE(fitness.cautions.empty());
    CHECK(std::ranges::any_of(fitness.cautions, [](const std::string& s) {
        return s.find("Nothing came from the right pick-up") != std::string::npos;
    }));
}

TEST_CASE("noise that swells a moment before a tap does not begin that tap") {
    constexpr double rate = analysis_rate_hz;
    std::vector<float> sound = eight_taps(0.002);
    const double fourth_s = 0.4 + 0.4 * 3;
    std::mt19937 random(33);
    std::normal_distribution<double> normal;
    for (auto n = static_cast<std::size_t>((fourth_s - 0.022) * rate); n < sound.size(); ++n) { // 6 dB up, and stays
        sound[n] += static_cast<float>(0.002 * std::sqrt(3.0) * normal(random));
    }
    TakeAnalyser analyser(1);
    analyser.feed(sound);
    const TakeAnalysis take = analyser.finish();
    REQUIRE(take.taps.size() == 8);
    for (std::size_t i = 0; i < 8; ++i) {
        CAPTURE(i);
        CHECK(std::abs(take.taps[i].onset_s - (0.4 + 0.4 * static_cast<double>(i))) < 0.0005);
    }
}

TEST_CASE("a setting changed at the top acts in the depths, and is kept with the result") {
    const std::vector<float> sound = eight_taps(0.001);
    const auto analysed = [&](const AnalysisSettings& settings) {
        TakeAnalyser analyser(1, analysis_rate_hz, settings);
        analyser.feed(sound);
        return analyser.finish();
    };
    const TakeAnalysis usual = analysed({});
    REQUIRE(usual.taps.size() == 8);
    REQUIRE(usual.settings);

    AnalysisSettings settings;
    SUBCASE("what stands out at all") {
        settings.find.events.threshold = 1e6;
        const TakeAnalysis take = analysed(settings);
        CHECK(take.taps.empty());
        CHECK(take.turned_down.empty());
        CHECK(take.settings->find.events.threshold == 1e6);
    }
    SUBCASE("what makes a run") {
        settings.run.min_taps = 9;
        settings.find.tap.min_prominence = 1e6;
        const TakeAnalysis take = analysed(settings);
        CHECK(take.taps.empty());
        CHECK(take.turned_down.size() >= 8);
        CHECK(take.settings->run.min_taps == 9);
    }
    SUBCASE("onsets of all taps together") {
        settings.together.stacked_onsets.fewest_taps = 9;
        const TakeAnalysis take = analysed(settings);
        REQUIRE(take.taps.size() == 8);
        CHECK(take.taps[3].onset_s != usual.taps[3].onset_s);
        CHECK(take.taps[3].onset_s == doctest::Approx(usual.taps[3].onset_s).epsilon(1e-3));
    }
    SUBCASE("contacts") {
        settings.together.contacts.shortest_ms = 4.0; // nothing nearer is told apart
        settings.together.contacts.short_gap_ms = 5.0;
        const TakeAnalysis take = analysed(settings);
        REQUIRE(take.taps.size() == 8);
        CHECK(usual.taps[0].resolution_ms < 4.0);
        CHECK(take.taps[0].resolution_ms >= 4.0);
    }
    SUBCASE("measures") {
        settings.measure.impact.highest_band = 4;
        const TakeAnalysis take = analysed(settings);
        CHECK(take.taps[0].bands_db.size() == usual.taps[0].bands_db.size() - 6);
        CHECK(take.band_centres_hz.size() == take.taps[0].bands_db.size());
    }
    SUBCASE("fitness") {
        settings.fitness.min_taps = 9;
        CHECK_FALSE(analysed(settings).fitness.usable);
        CHECK(usual.fitness.usable);
    }
}
