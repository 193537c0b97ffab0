#include "report/svg_frame.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace retap::report;

TEST_CASE("Coordinates are short and always finite") {
    CHECK(coordinate(12.0) == "12");
    CHECK(coordinate(12.34) == "12.3");
    CHECK(coordinate(-0.01) == "0");
    CHECK(coordinate(std::numeric_limits<double>::infinity()) == "0");
    CHECK(coordinate(std::numeric_limits<double>::quiet_NaN()) == "0");
}

TEST_CASE("A linear scale maps its ends and its middle, also upside down") {
    const Scale y{0.0, 2.0, 100.0, 20.0};
    CHECK(y(0.0) == doctest::Approx(100.0));
    CHECK(y(1.0) == doctest::Approx(60.0));
    CHECK(y(2.0) == doctest::Approx(20.0));
}

TEST_CASE("On a logarithmic scale each octave is as wide as the next") {
    const Scale x{125.0, 8000.0, 0.0, 60.0, Scale::Kind::logarithmic};
    CHECK(x(250.0) == doctest::Approx(10.0));
    CHECK(x(4000.0) == doctest::Approx(50.0));
}

TEST_CASE("Ticks stand at 1, 2 or 5 times a power of ten and carry the digits they need") {
    const auto ticks = linear_ticks(0.0, 1.15, 5);
    REQUIRE(ticks.size() == 3); // 1.15 / 5 = 0.23, so steps of 0.5
    CHECK(ticks[1].label == "0.5");
    CHECK(ticks[2].value == doctest::Approx(1.0));
    CHECK(linear_ticks(-60.0, 0.0, 6).front().label == "\u221260");
    CHECK(linear_ticks(0.0, 0.0, 5).empty());
    CHECK(linear_ticks(0.0, 0.3, 3).back().label == "0.3");
}
