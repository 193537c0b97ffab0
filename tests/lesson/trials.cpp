#include "lesson/trials.hpp"

#include <cmath>
#include <doctest/doctest.h>
#include <set>

using namespace retap;
using namespace retap::lesson;

namespace {

double rms(const audio::Sound& sound) {
    double sum = 0.0;
    for (const float x : sound.interleaved) {
        sum += static_cast<double>(x) * static_cast<double>(x);
    }
    return std::sqrt(sum / static_cast<double>(sound.interleaved.size()));
}

const TrialSettings three_taps{.taps = 3};

} // namespace

TEST_CASE("all sounds of a trial are equally loud, none clips, and no two are the same recording") {
    for (const double height : {20.0, 200.0}) {
        const Trial trial = odd_one_trial(height, three_taps, 3, 0);
        REQUIRE(trial.sounds.size() == 3);
        for (const audio::Sound& sound : trial.sounds) {
            // RMS is set to be equal; what remains is single precision.
            CHECK(20.0 * std::log10(rms(sound) / rms(trial.sounds.front())) == doctest::Approx(0.0).epsilon(0.001));
            for (const float x : sound.interleaved) {
                REQUIRE(std::abs(x) < 1.0F);
            }
        }
        CHECK(trial.sounds[0].interleaved != trial.sounds[1].interleaved);
        CHECK(trial.sounds[0].interleaved != trial.sounds[2].interleaved);
        CHECK(trial.sounds[1].interleaved != trial.sounds[2].interleaved);
    }
}

TEST_CASE("the odd one comes in every place, and of two pairs in a row one is the same bite twice") {
    std::set<std::size_t> places;
    int differing_first = 0;
    for (std::size_t number = 0; number < 12; ++number) {
        places.insert(odd_one_trial(100.0, {.taps = 1}, 9, number).odd.value());
    }
    CHECK(places.size() == 3);
    for (std::size_t number = 0; number < 12; number += 2) {
        const bool first = same_or_different_trial(100.0, {.taps = 1}, 9, number).odd.has_value();
        const bool second = same_or_different_trial(100.0, {.taps = 1}, 9, number + 1).odd.has_value();
        CHECK(first != second);
        differing_first += first ? 1 : 0;
    }
    CHECK(differing_first > 0);
    CHECK(differing_first < 6);
}
