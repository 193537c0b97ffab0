#include "dsp/contacts/shifting_arrival.hpp"
#include "skipped.hpp"

#include "analysis_rate.hpp"
#include "real_strikes.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace retap::dsp;
using retap::test::analysis_rate;
using retap::test::lay_down;
using retap::test::StrikeTake;

namespace {

// One stroke of two sticks on each other: Debian package hydrogen-drumkits, kit "ForzeeStereo".
std::vector<std::vector<float>> stick() {
    return {retap::test::recorded_strike("hydrogen/data/drumkits/ForzeeStereo/Stick-2.wav", 0)};
}

bool stick_missing() {
    const bool missing = stick().front().empty();
    if (missing) {
        retap::test::skipped("install the package hydrogen-drumkits");
    }
    return missing;
}

} // namespace

TEST_CASE("gaps that scatter from tap to tap are found to 0.005 ms, whichever contact is the stronger") {
    if (stick_missing()) {
        return;
    }
    for (const double gap_ms : {0.3, 0.8, 1.5}) {
        for (const double ratio : {0.4, 1.0, 2.0}) {
            for (const double jitter : {0.03, 0.10}) {
                CAPTURE(gap_ms);
                CAPTURE(ratio);
                CAPTURE(jitter);
                const StrikeTake take = lay_down(stick(), {.gap_ms = gap_ms, .ratio = ratio, .gap_jitter = jitter}, 81);
                const auto found = find_shifting_arrivals(take.taps(), analysis_rate, {}, {});
                REQUIRE(found.has_value());
                CHECK(found->left < 0.9);
                std::vector<double> errors;
                for (std::size_t t = 0; t < take.gaps_ms.size(); ++t) {
                    errors.push_back(std::abs(found->playing[t].lag_ms - take.gaps_ms[t]));
                }
                std::ranges::sort(errors);
                CHECK(errors[errors.size() / 2] < 0.005);
            }
        }
    }
}

TEST_CASE("a guess finds the gaps that are too long to be sought") {
    if (stick_missing()) {
        return;
    }
    const StrikeTake take = lay_down(stick(), {.gap_ms = 4.0, .ratio = 0.8, .gap_jitter = 0.03}, 82);
    const std::vector<double> guesses(take.gaps_ms.size(), 4.02);
    const auto found = find_shifting_arrivals(take.taps(), analysis_rate, guesses, {});
    REQUIRE(found.has_value());
    for (std::size_t t = 0; t < take.gaps_ms.size(); ++t) {
        CHECK(std::abs(found->playing[t].lag_ms - take.gaps_ms[t]) < 0.01);
    }
}

TEST_CASE("taps of one contact differ by nothing that a second one explains") {
    if (stick_missing()) {
        return;
    }
    for (const double over_noise_db : {28.0, 46.0}) {
        const StrikeTake take = lay_down(stick(), {.peak_over_noise_db = over_noise_db}, 83);
        const auto found = find_shifting_arrivals(take.taps(), analysis_rate, {}, {});
        REQUIRE(found.has_value());
        CHECK(found->left > 0.93);
        CHECK(found->over_noise == doctest::Approx(1.0).epsilon(0.2));
    }
}

TEST_CASE("a gap that does not scatter is the sound's own and is not seen") {
    if (stick_missing()) {
        return;
    }
    const auto found = find_shifting_arrivals(lay_down(stick(), {.gap_ms = 0.8}, 84).taps(), analysis_rate, {}, {});
    REQUIRE(found.has_value());
    CHECK(found->left > 0.93);
}

TEST_CASE("fewer than four taps, silence and excerpts that are too short give nothing") {
    CHECK_FALSE(find_shifting_arrivals({}, analysis_rate, {}, {}).has_value());
    const std::vector<float> noise = retap::test::white_noise(5760, 0.01, 85);
    const std::vector<float> silence(5760, 0.0F);
    const std::vector<float> brief(1000, 0.1F);
    const std::vector<TapSound> three(3, {noise, Position(960.0)});
    CHECK_FALSE(find_shifting_arrivals(three, analysis_rate, {}, {}).has_value());
    for (const auto& sound : {silence, brief}) {
        const std::vector<TapSound> five(5, {sound, Position(960.0)});
        CHECK_FALSE(find_shifting_arrivals(five, analysis_rate, {}, {}).has_value());
    }
}
