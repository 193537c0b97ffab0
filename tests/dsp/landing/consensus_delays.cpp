#include "dsp/landing/consensus_delays.hpp"

#include <doctest/doctest.h>

#include <cstddef>
#include <vector>

using retap::dsp::consensus_delays;

namespace {

std::vector<double> distances(const std::vector<double>& places) {
    std::vector<double> apart;
    for (const double one : places) {
        for (const double other : places) {
            apart.push_back(one - other);
        }
    }
    return apart;
}

void set_apart(std::vector<double>& apart, std::size_t count, std::size_t i, std::size_t j, double distance) {
    apart[i * count + j] = distance;
    apart[j * count + i] = -distance;
}

} // namespace

TEST_CASE("places come back from their distances, up to one shift") {
    const std::vector<double> places{0.0, 3.5, -12.25, 40.0, 7.0};
    const std::vector<double> found = consensus_delays(distances(places), places.size());
    REQUIRE(found.size() == places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        CHECK(found[i] - found[0] == doctest::Approx(places[i] - places[0]));
    }
}

TEST_CASE("a distance that is far off moves nothing while most of those of each thing are right") {
    const std::vector<double> places{0.0, 3.5, -12.25, 40.0, 7.0, 9.0, 1.0};
    std::vector<double> apart = distances(places);
    set_apart(apart, 7, 1, 4, 200.0);
    set_apart(apart, 7, 2, 3, -150.0);
    const std::vector<double> found = consensus_delays(apart, 7);
    for (std::size_t i = 0; i < places.size(); ++i) {
        CAPTURE(i);
        CHECK(found[i] - found[0] == doctest::Approx(places[i] - places[0]));
    }
}

TEST_CASE("two things meet half way of where each wants the other, one and none are where they are") {
    const std::vector<double> found = consensus_delays(distances({2.0, 5.0}), 2);
    CHECK(found[1] - found[0] == doctest::Approx(3.0));
    CHECK(consensus_delays(std::vector<double>{0.0}, 1) == std::vector<double>{0.0});
    CHECK(consensus_delays({}, 0).empty());
}
