#include "compare/level_evidence.hpp"

#include <doctest/doctest.h>

#include <array>

using namespace retap::compare;

namespace {

const LevelEvidenceSettings level_settings{.free_db = 4.0, .per_db = 0.2, .repeat_db = 6.0};

} // namespace

TEST_CASE("what effort and seat move says nothing; each further decibel does, louder as softer") {
    const auto weight = [](double before, double after) {
        return level_evidence(std::array{before}, std::array{after}, level_settings).weight;
    };
    CHECK(weight(-20.0, -23.9) == 0.0);
    CHECK(weight(-20.0, -34.0) == doctest::Approx(2.0));
    CHECK(weight(-34.0, -20.0) == doctest::Approx(2.0));
}

TEST_CASE("a change of level is repeated when every one of two takes shows it") {
    const auto repeated = [](auto before, auto after) {
        return level_evidence(before, after, level_settings).repeated;
    };
    CHECK_FALSE(repeated(std::array{-20.0}, std::array{-34.0}));
    CHECK(repeated(std::array{-20.0}, std::array{-34.0, -31.0}));
    CHECK_FALSE(repeated(std::array{-20.0}, std::array{-34.0, -22.0})); // the second was tapped as before
    CHECK(repeated(std::array{-33.0, -34.0}, std::array{-20.0}));       // the sides swapped
}
