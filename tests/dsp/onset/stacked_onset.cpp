#include "dsp/onset/stacked_onset.hpp"
#include "skipped.hpp"

#include "analysis_rate.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/take_analyser.hpp"
#include "impact_signals.hpp"
#include "real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <vector>

using namespace retap;
using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::recorded_strike;
using retap::test::sampled;
using retap::test::white_noise;

namespace {

constexpr double stack_rate_hz = analysis_rate_hz;

struct Taps {
    std::vector<std::vector<float>> sounds{};
    std::vector<double> onset{}; ///< true one, in samples
    std::vector<double> own{};   ///< what each tap by itself would say

    [[nodiscard]] std::vector<TapSound> list() const {
        std::vector<TapSound> taps;
        for (std::size_t i = 0; i < sounds.size(); ++i) {
            taps.push_back({.samples = sounds[i], .onset = Position(own[i])});
        }
        return taps;
    }
};

// Damped sines in noise 20 dB below their peak; each tap's own onset is late by 0 to 0.3 ms.
Taps made_taps(std::size_t count, double frequency_hz, unsigned seed) {
    std::mt19937 engine(seed);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    Taps taps;
    for (std::size_t t = 0; t < count; ++t) {
        taps.onset.push_back(960.0 + part(engine));
        taps.own.push_back(taps.onset.back() + 14.4 * part(engine));
        auto sound =
            sampled({.frequency_hz = frequency_hz, .decay_per_s = 300.0}, 5760, taps.onset.back(), stack_rate_hz);
        test::add(sound, white_noise(sound.size(), 0.05, 100 * seed + static_cast<unsigned>(t)));
        taps.sounds.push_back(std::move(sound));
    }
    return taps;
}

// Eight strokes 0.4 s apart in noise, and how far from the truth the whole sound stage puts each, in ms.
std::vector<double> errors_of_take(const std::vector<float>& strike, double over_noise_db, unsigned seed) {
    constexpr std::size_t every = 19200;
    constexpr std::size_t count = 8;
    std::mt19937 engine(seed);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    std::vector<float> sound = white_noise((count + 2) * every, 0.3 * std::pow(10.0, -over_noise_db / 20.0), seed);
    std::vector<double> truth;
    for (std::size_t t = 1; t <= count; ++t) {
        const double shift = part(engine);
        std::vector<float> one(strike.size() + 200, 0.0F);
        std::ranges::transform(strike, one.begin() + 100, [](float v) { return 0.3F * v; });
        one = delayed(one, Length(shift));
        for (std::size_t n = 0; n < one.size(); ++n) {
            sound[t * every + n] += one[n];
        }
        // A recorded strike begins 12 samples ahead of where it first exceeds 1 % of its peak.
        truth.push_back((static_cast<double>(t * every) + 112.0 + shift) / stack_rate_hz);
    }
    TakeAnalyser analyser(1);
    analyser.feed(sound);
    const TakeAnalysis take = analyser.finish();
    REQUIRE(take.taps.size() == count);
    std::vector<double> errors;
    for (std::size_t t = 0; t < count; ++t) {
        errors.push_back(1e3 * (take.taps[t].onset_s - truth[t]));
    }
    return errors;
}

} // namespace

TEST_CASE("taps of one sound get a common onset within 0.06 ms, however far apart their own are") {
    for (const unsigned seed : {1U, 2U, 3U, 4U, 5U}) {
        const Taps made = made_taps(8, 2300.0, seed);
        const auto onsets = stacked_onsets(made.list(), analysis_rate, {});
        std::vector<double> errors;
        for (std::size_t i = 0; i < onsets.size(); ++i) {
            REQUIRE(onsets[i].has_value());
            errors.push_back(1e3 * (onsets[i]->samples() - made.onset[i]) / stack_rate_hz);
        }
        CAPTURE(seed);
        CHECK(std::abs(median(errors)) < 0.06);
        CHECK(robust_scatter(errors) < 0.01);
    }
}

TEST_CASE("a sound that swells over half a millisecond is put back to where it began") {
    for (const unsigned seed : {1U, 2U, 3U, 4U, 5U}) {
        Taps made = made_taps(8, 2300.0, seed);
        const double swell = 0.5e-3 * stack_rate_hz;
        std::vector<double> errors;
        for (std::size_t i = 0; i < made.sounds.size(); ++i) {
            made.sounds[i] =
                sampled({.frequency_hz = 2300.0, .decay_per_s = 300.0}, 5760, made.onset[i], stack_rate_hz);
            for (std::size_t n = 0; n < made.sounds[i].size(); ++n) {
                const double since = std::clamp((static_cast<double>(n) - made.onset[i]) / swell, 0.0, 1.0);
                made.sounds[i][n] *= static_cast<float>(since * since);
            }
            test::add(made.sounds[i], white_noise(5760, 0.02, 100 * seed + static_cast<unsigned>(i)));
        }
        const auto onsets = stacked_onsets(made.list(), analysis_rate, {});
        for (std::size_t i = 0; i < onsets.size(); ++i) {
            REQUIRE(onsets[i].has_value());
            errors.push_back(1e3 * (onsets[i]->samples() - made.onset[i]) / stack_rate_hz);
        }
        CAPTURE(seed);
        CHECK(std::abs(median(errors)) < 0.05);
        CHECK(robust_scatter(errors) < 0.01);
    }
}

TEST_CASE("a tap that is unlike the others keeps its own onset, and so do taps that are too few or silent") {
    Taps made = made_taps(6, 2300.0, 7);
    const Taps other = made_taps(1, 5100.0, 8);
    made.sounds[2] = other.sounds[0];
    const auto onsets = stacked_onsets(made.list(), analysis_rate, {});
    for (std::size_t i = 0; i < onsets.size(); ++i) {
        CAPTURE(i);
        CHECK(onsets[i].has_value() == (i != 2));
    }
    CHECK(stacked_onsets({}, analysis_rate, {}).empty());
    const auto of_two = stacked_onsets(made_taps(2, 2300.0, 9).list(), analysis_rate, {});
    CHECK(std::ranges::none_of(of_two, [](const auto& onset) { return onset.has_value(); }));

    Taps silent;
    silent.sounds.assign(4, std::vector<float>(5760, 0.0F));
    silent.own.assign(4, 960.0);
    const auto of_silence = stacked_onsets(silent.list(), analysis_rate, {});
    CHECK(std::ranges::none_of(of_silence, [](const auto& onset) { return onset.has_value(); }));

    Taps noise; // and noise alone is not made to agree
    for (unsigned seed = 20; seed < 26; ++seed) {
        noise.sounds.push_back(white_noise(5760, 0.05, seed));
        noise.own.push_back(960.0);
    }
    const auto of_noise = stacked_onsets(noise.list(), analysis_rate, {});
    CHECK(std::ranges::none_of(of_noise, [](const auto& onset) { return onset.has_value(); }));
}

TEST_CASE("an excerpt that is cut short before or after its onset keeps its onset and does not disturb the others") {
    Taps made = made_taps(6, 2300.0, 11);
    const auto before = stacked_onsets(made.list(), analysis_rate, {});
    made.sounds.emplace_back(made.sounds[0].begin() + 900, made.sounds[0].end());
    made.own.push_back(60.0);
    made.sounds.emplace_back(made.sounds[0].begin(), made.sounds[0].begin() + 1000);
    made.own.push_back(960.0);
    const auto after = stacked_onsets(made.list(), analysis_rate, {});
    CHECK_FALSE(after[6].has_value());
    CHECK_FALSE(after[7].has_value());
    for (std::size_t i = 0; i < 6; ++i) {
        REQUIRE(before[i].has_value());
        REQUIRE(after[i].has_value());
        CHECK(after[i]->samples() == doctest::Approx(before[i]->samples()).epsilon(1e-3));
    }
}

TEST_CASE("recorded strikes 24 dB over the noise are timed alike from tap to tap within 0.01 ms") {
    // Sticks on each other and on a rim: Debian package hydrogen-drumkits.
    const std::array<std::string, 3> files{"ForzeeStereo/Stick-1.wav", "ForzeeStereo/Stick-3.wav",
                                           "Millo_MultiLayered2/rim_02.flac"};
    for (const std::string& file : files) {
        const auto strike = recorded_strike("hydrogen/data/drumkits/" + file, 0);
        if (strike.empty()) {
            retap::test::skipped("install the package hydrogen-drumkits");
            return;
        }
        for (const unsigned seed : {1U, 2U}) {
            const auto errors = errors_of_take(strike, 24.0, seed);
            CAPTURE(file);
            CAPTURE(seed);
            CAPTURE(median(errors));
            CHECK(robust_scatter(errors) < 0.01);
        }
    }
}
