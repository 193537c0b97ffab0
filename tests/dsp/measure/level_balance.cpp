#include "dsp/measure/level_balance.hpp"

#include "analysis_rate.hpp"
#include "impact_signals.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace retap::dsp;
using retap::test::add;
using retap::test::analysis_rate;
using retap::test::sampled;
using retap::test::white_noise;

namespace {} // namespace

TEST_CASE("twice the amplitude on the left is 6.02 dB more, whatever the offset") {
    const std::vector<float> right = sampled({0.1, 2000.0, 300.0}, 4000, 960.0, analysis_rate.hz());
    std::vector<float> left = right;
    std::ranges::transform(left, left.begin(), [](float v) { return -2.0F * v + 0.25F; });
    const auto excess = left_excess_db(left, right, Position(960.0), analysis_rate, {});
    REQUIRE(excess);
    CHECK(*excess == doctest::Approx(6.0206).epsilon(1e-4));
    CHECK(*left_excess_db(right, left, Position(960.0), analysis_rate, {}) == doctest::Approx(-6.0206).epsilon(1e-4));
}

TEST_CASE("noise on one side is taken off") {
    const std::vector<float> right = sampled({0.2, 2000.0, 150.0}, 4000, 960.0, analysis_rate.hz());
    std::vector<float> left = right;
    add(left, white_noise(4000, 0.02, 97)); // energy of the tap in 35 ms: 3.2; of the noise there: 0.69
    const auto excess = left_excess_db(left, right, Position(960.0), analysis_rate, {});
    REQUIRE(excess);
    CHECK(std::abs(*excess) < 0.4); // it would be 0.85 dB with the noise left in
}

TEST_CASE("a channel with nothing but noise has no balance") {
    const std::vector<float> tap = sampled({0.2, 2000.0, 150.0}, 4000, 960.0, analysis_rate.hz());
    CHECK_FALSE(left_excess_db(tap, std::vector<float>(4000, 0.0F), Position(960.0), analysis_rate, {}));
    CHECK_FALSE(left_excess_db(std::vector<float>(4000, 0.3F), tap, Position(960.0), analysis_rate, {}));
}
