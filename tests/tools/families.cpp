#include "validate/families.hpp"

#include "recorded_strikes.hpp"
#include "validate/simulated.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

namespace {

using namespace retap::validate;
namespace bite = retap::bite;

TEST_CASE("a word means a family, all of a mechanics, or all of a sound") {
    CHECK(usual_families().size() == 8);
    CHECK(families_named("stopping-strikes") ==
          std::vector<Family>{{.mechanics = bite::Mechanics::stopping, .sound = Sound::strikes}});
    CHECK(families_named("chance").size() == 2); // without the turns, which have to be asked for
    CHECK(families_named("turns").size() == 4);
    CHECK(families_named("light-turns").size() == 1);
    CHECK(families_named("heavy").empty());
    for (const Family& family : usual_families()) {
        CHECK(families_named(name(family)) == std::vector<Family>{family});
    }
}

// RMS of what is heard before the first tap.
double noise_of(const bite::Take& take) {
    double sum = 0.0;
    for (std::size_t i = 0; i < 12000; ++i) { // a quarter of a second
        sum += std::pow(static_cast<double>(take.channels.front()[i]), 2.0);
    }
    return std::sqrt(sum / 12000.0);
}

TEST_CASE("one patient is recorded by one chain: softer taps lie deeper in the same noise") {
    const Recordings none{};
    const Family family{.mechanics = bite::Mechanics::stopping, .sound = Sound::modal};
    const std::uint64_t patient = 41;
    const bite::Take before = bite::make_take(take_before(family, patient, none));
    const std::size_t high = 6; // 200 um
    REQUIRE(conditions.at(high).height_um == 200.0);
    const bite::Take after = bite::make_take(take_after(family, patient, none, high));
    // A quarter of a second of pinkish noise, mostly below 100 Hz: its RMS scatters by about a decibel.
    CHECK(20.0 * std::abs(std::log10(noise_of(after) / noise_of(before))) < 3.0);
    CHECK(after.taps.front().peak.front() < before.taps.front().peak.front());
    CHECK(take_before(family, patient, none).usual_peak_dbfs == take_after(family, patient, none, 3).usual_peak_dbfs);
    CHECK(take_before(family, patient, none).pink_noise == take_after(family, patient, none, 3).pink_noise);
}

TEST_CASE("repeats are other takes, in another seat unless it is kept") {
    const Recordings none{};
    const Family family{};
    const auto first = take_after(family, 41, none, 3);
    const auto again = take_after(family, 41, none, 3, {.number = 1});
    const auto kept = take_after(family, 41, none, 3, {.number = 1, .new_seat = false});
    CHECK(first.take != again.take);
    CHECK(first.seat != again.seat);
    CHECK(kept.take == again.take);
    CHECK(kept.seat == first.seat);
    CHECK(first.change.heights.front().pair == again.change.heights.front().pair);
    CHECK(take_before(family, 41, none, {.number = 1}).seat != 0);
    CHECK(take_before(family, 41, none, {.number = 1, .new_seat = false}).seat == 0);
}

TEST_CASE("by turns one contact sounds like another recording of the kit than the next") {
    if (!retap::test::strikes_are_here()) {
        return;
    }
    const Recordings recordings = load_recordings();
    const Family family{.mechanics = bite::Mechanics::light, .sound = Sound::turns};
    const auto scenario = scenario_of(family, 41, recordings);
    CHECK(scenario.strike_style.by_turns);
    CHECK(scenario.strikes.size() >= 4);
    auto one = scenario;
    one.strike_style.by_turns = false;
    CHECK(bite::make_take(scenario).channels != bite::make_take(one).channels);
}

} // namespace
