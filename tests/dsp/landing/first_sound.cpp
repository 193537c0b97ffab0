#include "dsp/landing/first_sound.hpp"
#include "skipped.hpp"

#include "dsp/filters/fractional_delay.hpp"
#include "dsp/landing/landing.hpp"

#include "analysis_rate.hpp"
#include "real_strikes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <random>
#include <vector>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::recorded_strike;

namespace {

constexpr std::size_t main_at = 1200;

// Strokes of two sticks on each other, and on a rim: Debian package hydrogen-drumkits.
std::vector<float> stroke(int number) {
    return number == 0
               ? recorded_strike("hydrogen/data/drumkits/Millo_MultiLayered2/rim_01.flac", 0)
               : recorded_strike("hydrogen/data/drumkits/ForzeeStereo/Stick-" + std::to_string(number) + ".wav", 0);
}

bool strokes_missing() {
    const bool missing = stroke(0).empty() || stroke(1).empty();
    if (missing) {
        retap::test::skipped("install the package hydrogen-drumkits");
    }
    return missing;
}

struct Plan {
    double lead_ms;
    double scatter_ms = 0.05;
    double light_db = -22.0; // of the light contact re the main one
    double noise_db = -46.0; // re the main stroke's peak
    float gain = 1.0F;
};

struct Side {
    std::vector<std::vector<float>> sounds;
    std::vector<double> main_impact;
};

/// Eight taps: a stroke, and the same one lightly so long before it. Main impacts lie anywhere between samples.
Side side(int number, const Plan& plan, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0.0, 1.0);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    const std::vector<float> sound = stroke(number);
    const auto light = static_cast<float>(std::pow(10.0, plan.light_db / 20.0));
    Side made;
    for (unsigned t = 0; t < 8; ++t) {
        std::vector<float> one(6000, 0.0F);
        std::ranges::copy(sound, one.begin() + main_at);
        const double shift = part(random);
        const double lead = plan.lead_ms + plan.scatter_ms * normal(random);
        const std::vector<float> main = delayed(one, Length(shift));
        const std::vector<float> first = delayed(one, Length(shift) - Length::from_ms(lead, analysis_rate));
        std::vector<float> tap =
            retap::test::white_noise(one.size(), std::pow(10.0, plan.noise_db / 20.0), seed * 100 + t);
        for (std::size_t i = 0; i < tap.size(); ++i) {
            tap[i] = plan.gain * (tap[i] + main[i] + light * first[i]);
        }
        made.sounds.push_back(std::move(tap));
        made.main_impact.push_back(static_cast<double>(main_at) + shift);
    }
    return made;
}

std::optional<FirstSounds> heard(const Side& before, const Side& after) {
    std::vector<TapSound> taps;
    std::vector<double> main_impact;
    std::vector<std::size_t> sides;
    for (const Side* s : {&before, &after}) {
        for (std::size_t i = 0; i < s->sounds.size(); ++i) {
            taps.push_back({.samples = s->sounds[i], .onset = Position(s->main_impact[i])});
            main_impact.push_back(s->main_impact[i]);
            sides.push_back(s == &after ? 1U : 0U);
        }
    }
    return first_sounds(taps, main_impact, sides, analysis_rate);
}

double moved(const FirstSounds& sounds, std::size_t level) {
    return sounds.side[1].ms.at(level) - sounds.side[0].ms.at(level);
}

constexpr std::size_t at_40_db = 20; // under the light contact
constexpr std::size_t at_15_db = 70; // above it

} // namespace

TEST_CASE("a light contact that comes earlier before the main one moves the first sound by as much") {
    if (strokes_missing()) {
        return;
    }
    for (const int number : {0, 1, 2}) {
        for (const double later : {0.3, 0.9, 3.0}) {
            CAPTURE(number);
            CAPTURE(later);
            const auto sounds = heard(side(number, {.lead_ms = 0.3}, 11), side(number, {.lead_ms = later}, 12));
            REQUIRE(sounds);
            // Each lead scatters by 0.05 ms from tap to tap: the mean of eight by 0.018, a difference by 0.025.
            CHECK(std::abs(moved(*sounds, at_40_db) - (later - 0.3)) < 0.075);
            CHECK(std::abs(moved(*sounds, at_15_db)) < 0.05); // the main impact, which did not move
        }
    }
}

TEST_CASE("its standard error is what the scatter of the leads leaves open") {
    if (strokes_missing()) {
        return;
    }
    double squares = 0.0;
    double errors = 0.0;
    constexpr unsigned trials = 24;
    for (unsigned trial = 0; trial < trials; ++trial) {
        const auto sounds = heard(side(1, {.lead_ms = 0.6, .scatter_ms = 0.08}, 100 + 2 * trial),
                                  side(1, {.lead_ms = 0.6, .scatter_ms = 0.08}, 101 + 2 * trial));
        REQUIRE(sounds);
        squares += std::pow(moved(*sounds, at_40_db), 2.0) / trials;
        errors += (std::pow(sounds->side[0].standard_error_ms.at(at_40_db), 2.0) +
                   std::pow(sounds->side[1].standard_error_ms.at(at_40_db), 2.0)) /
                  trials;
    }
    // A variance from 24 trials is itself known to 29 % (chi squared), and so are the errors: a factor of 2 either way.
    CHECK(errors < 2.0 * squares);
    CHECK(errors > 0.5 * squares);
}

TEST_CASE("gain, polarity and more noise on one side leave the first sound where it was") {
    if (strokes_missing()) {
        return;
    }
    const Side before = side(2, {.lead_ms = 0.5, .scatter_ms = 0.0}, 31);
    for (const Plan& plan :
         {Plan{.lead_ms = 0.5, .scatter_ms = 0.0, .gain = 0.1F}, Plan{.lead_ms = 0.5, .scatter_ms = 0.0, .gain = -1.0F},
          Plan{.lead_ms = 0.5, .scatter_ms = 0.0, .noise_db = -34.0}}) {
        const auto sounds = heard(before, side(2, plan, 32));
        REQUIRE(sounds);
        for (std::size_t level = 0; level < first_sound_levels_db.size(); ++level) {
            CAPTURE(level);
            CHECK(std::abs(moved(*sounds, level)) < 0.03);
        }
    }
}

TEST_CASE("one tap with a click before it does not pull the first sound of its side away") {
    if (strokes_missing()) {
        return;
    }
    const Side before = side(1, {.lead_ms = 0.5, .scatter_ms = 0.0}, 41);
    Side after = side(1, {.lead_ms = 0.5, .scatter_ms = 0.0}, 42);
    for (std::size_t i = 0; i < 96; ++i) { // 2 ms of it, 4 ms before, ten times over the noise
        after.sounds[3][main_at - 192 + i] += i % 2 == 0 ? 0.05F : -0.05F;
    }
    const auto sounds = heard(before, after);
    REQUIRE(sounds);
    CHECK(std::abs(moved(*sounds, at_40_db)) < 0.05);
}

TEST_CASE("it is told how faint a sound would have been heard") {
    if (strokes_missing()) {
        return;
    }
    const auto deepest = [](double noise_db) {
        const Plan plan{.lead_ms = 0.4, .noise_db = noise_db};
        return heard(side(1, plan, 45), side(1, plan, 46)).value().deepest_db;
    };
    CHECK(deepest(-46.0) < -40.0);
    CHECK(deepest(-26.0) - deepest(-46.0) == doctest::Approx(20.0).epsilon(0.1)); // as much as the noise rose
}

TEST_CASE("swapping the sides turns the sign and nothing else") {
    if (strokes_missing()) {
        return;
    }
    const Side a = side(0, {.lead_ms = 0.4}, 51);
    const Side b = side(0, {.lead_ms = 1.1}, 52);
    const auto one = heard(a, b);
    const auto other = heard(b, a);
    REQUIRE(one);
    REQUIRE(other);
    for (std::size_t level = 0; level < first_sound_levels_db.size(); ++level) {
        CHECK(moved(*one, level) == doctest::Approx(-moved(*other, level)));
    }
}

TEST_CASE("taps that are cut too short, and too few of them, say nothing about their first sound") {
    if (strokes_missing()) {
        return;
    }
    Side before = side(1, {.lead_ms = 0.4}, 61);
    Side after = side(1, {.lead_ms = 0.4}, 62);
    for (double& at : after.main_impact) {
        at = 300.0; // 6 ms of quiet
    }
    CHECK(!heard(before, after));
    for (std::vector<float>& silent : before.sounds) {
        std::ranges::fill(silent, 0.0F);
    }
    CHECK(!heard(before, before));
}

TEST_CASE("main impacts are found where they were laid down") {
    if (strokes_missing()) {
        return;
    }
    const Side before = side(1, {.lead_ms = 0.3}, 71);
    const Side after = side(1, {.lead_ms = 1.5}, 72);
    std::vector<TapSound> taps;
    std::vector<double> truth;
    std::vector<std::size_t> take;
    for (const Side* s : {&before, &after}) {
        for (std::size_t i = 0; i < s->sounds.size(); ++i) { // onsets as rough as a picker's
            taps.push_back({.samples = s->sounds[i], .onset = Position(main_at - 20.0 + 3.0 * static_cast<double>(i))});
            truth.push_back(s->main_impact[i]);
            take.push_back(s == &after ? 1U : 0U);
        }
    }
    LandingSounds sounds(taps, take, analysis_rate);
    (void)sounds.relate();
    const std::vector<double> found = sounds.main_impacts();
    double common = 0.0;
    for (std::size_t i = 0; i < found.size(); ++i) {
        common += (found[i] - truth[i]) / static_cast<double>(found.size());
    }
    for (std::size_t i = 0; i < found.size(); ++i) {
        CHECK(std::abs(found[i] - truth[i] - common) < 0.15); // samples; the light contact pulls a little
    }
}
