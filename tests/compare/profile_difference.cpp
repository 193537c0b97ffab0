#include "compare/profile_difference.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <vector>

using namespace retap;
using compare::profile_difference;

namespace {

/// Profiles of one take: normal numbers about `middle`, of a standard deviation of `scatter`.
std::vector<dsp::EnergyProfile> profiles(std::size_t count, double middle, double scatter, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(middle, scatter);
    std::vector<dsp::EnergyProfile> all(count);
    for (dsp::EnergyProfile& profile : all) {
        for (double& number : profile) {
            number = scatter > 0.0 ? normal(random) : middle;
        }
    }
    return all;
}

} // namespace

TEST_CASE("profiles that do not scatter differ by their distance over the residual") {
    const auto difference = profile_difference(profiles(8, 1.0, 0.0, 1), profiles(8, 1.6, 0.0, 2), {.residual = 0.3});
    REQUIRE(difference);
    CHECK(*difference == doctest::Approx(2.0));
    CHECK(profile_difference(profiles(8, 1.0, 0.0, 1), profiles(8, 1.0, 0.0, 2)).value() == 0.0);
}

TEST_CASE("scatter of the taps makes one distance a smaller difference, and fewer taps a smaller one still") {
    const auto of = [](std::size_t taps, double scatter) {
        return profile_difference(profiles(taps, 0.0, scatter, 3), profiles(taps, 2.0, scatter, 4)).value();
    };
    CHECK(of(8, 0.2) > of(8, 1.0));
    CHECK(of(8, 1.0) > of(4, 1.0));
    // 2 over the root of 1/8 + 1/8 and 0.3 squared, with the noise of the middles beside it
    CHECK(of(8, 1.0) == doctest::Approx(2.0 / std::sqrt(0.25 + 0.09)).epsilon(0.15));
}

TEST_CASE("it does not matter which side is the first, and one tap says nothing") {
    const auto a = profiles(8, 0.0, 0.5, 5);
    const auto b = profiles(6, 0.4, 0.8, 6);
    CHECK(profile_difference(a, b).value() == doctest::Approx(profile_difference(b, a).value()));
    CHECK(!profile_difference(profiles(1, 0.0, 0.5, 7), a));
}
