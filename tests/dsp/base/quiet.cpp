#include "dsp/base/quiet.hpp"

#include "dsp/base/statistics.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace retap::dsp;

TEST_CASE("the quiet is what precedes a tap by its guard, in whole samples, and nothing where there is none") {
    const std::vector<float> sound{1.0F, 2.0F, 3.0F, 4.0F, 9.0F, 9.0F};
    CHECK(quiet_before(sound, Position(4.0), Length(0.0)).size() == 4);
    CHECK(quiet_before(sound, Position(4.7), Length(1.0)).size() == 3); // 3.7 samples before it are 3 whole ones
    CHECK(quiet_before(sound, Position(4.0), Length(0.5)).size() == 3);
    CHECK(quiet_before(sound, Position(4.0), Length(1.0)).back() == 3.0F);
    CHECK(quiet_before(sound, Position(2.0), Length(2.0)).empty());
    CHECK(quiet_before(sound, Position(2.0), Length(20.0)).empty());
    CHECK(quiet_before(sound, Position(60.0), Length(20.0)).size() == sound.size()); // a tap after its own sound
    CHECK(quiet_before({}, Position(4.0), Length(1.0)).empty());
}

TEST_CASE("the noise of the quiet is its mean square about its own mean, so that an offset does not count") {
    const std::vector<float> sound{1.0F, 3.0F, 1.0F, 3.0F};
    CHECK(mean_square(sound) == 5.0); // (1 + 9 + 1 + 9) / 4
    CHECK(mean_square(sound, mean(sound)) == 1.0);
    CHECK(mean_square({}, 2.0) == 0.0);
}
